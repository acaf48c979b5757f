# SPDX-License-Identifier: GPL-3.0-or-later
"""Every example of the guide prints what the guide says. Argument: the folder of the package."""

import doctest
import os
import sys

os.environ["MPLBACKEND"] = "Agg"
sys.dont_write_bytecode = True
sys.path.insert(0, sys.argv[1])
from blocks import blocks  # noqa: E402 (no bytecode is to be written)

text = "\n".join(blocks("docs/guide.md", "python"))
test = doctest.DocTestParser().get_doctest(text, {}, "docs/guide.md", "docs/guide.md", 0)
runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS)
failed, tried = runner.run(test)
print(f"{tried} examples tried, {failed} failed")
sys.exit(failed > 0 or tried < 30)
