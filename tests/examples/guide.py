# SPDX-License-Identifier: GPL-3.0-or-later
"""Every example of the guide, in a row, prints what the guide says. Argument: the guide."""

import doctest
import pathlib
import re
import sys

page = pathlib.Path(sys.argv[1])
text = "\n".join(re.findall(r"^```python\n(.*?)^```$", page.read_text(), re.M | re.S))
test = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS)
failed, tried = runner.run(test)
print(f"{tried} examples tried, {failed} failed")
sys.exit(failed > 0 or not tried)
