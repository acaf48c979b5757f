/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict of a balancing. */
#include "network/balancing.h"

#include <math.h>

static const double FELT = 1e-6; /* tolerances a setting must move a target over its whole range */

static void say_setting(const vent__search *s, vent_balanced *b, size_t j)
{
    char name[VENT__NAME_ROOM] = "";
    vent_parameter_range bounds;
    vent_network_parameter_name(s->network, b->parameter[j], sizeof name, name);
    vent_network_parameter_range(s->network, b->parameter[j], &bounds);
    const vent_setting *one = &b->setting[j];
    vent__text_add(&b->verdict, "%s stands at its %s bound, %.6g%s%s%s", name,
                   one->at_bound > 0 ? "upper" : "lower", one->value, *bounds.unit ? " " : "",
                   bounds.unit, one->is_wide_open ? " (wide open)" : "");
}

/* Why a target is not met: nothing moves it, bounds stand in the way, the network has no solution farther
 * on, or the targets disagree. */
static void say_why(const vent__search *s, vent_balanced *b, size_t i)
{
    bool is_moved = false, is_bound = false;
    for (size_t j = 0; j < s->settings; ++j) {
        double effect = s->jacobian[i * s->settings + j];
        const vent_setting *one = &b->setting[j];
        bool felt = fabs(effect) * (one->high - one->low) > FELT;
        is_moved |= felt;
        bool helps = -b->achievement[i].deviation * effect * one->at_bound > 0;
        if (!felt || !helps)
            continue;
        vent__text_add(&b->verdict, "%s", is_bound ? ", and " : ": ");
        say_setting(s, b, j);
        is_bound = true;
    }
    if (!s->settings)
        vent__text_add(&b->verdict, ": nothing may be adjusted");
    else if (!is_moved)
        vent__text_add(&b->verdict, ": nothing that may be adjusted moves it");
    else if (!is_bound && vent__is_stopped(s))
        vent__text_add(
            &b->verdict,
            ": the network could not be solved farther on; other settings to begin with may "
            "lead there");
    else if (!is_bound)
        vent__text_add(&b->verdict,
                       ": the targets want different settings of what may be adjusted");
    vent__text_add(&b->verdict, ".");
}

static void say_target(const vent__search *s, vent_balanced *b, size_t i)
{
    char name[VENT__NAME_ROOM] = "";
    const vent_observable *o = &s->balance->target[i].observable;
    const vent_achievement *a = &b->achievement[i];
    const char *unit = vent_observable_unit(*o);
    char wanted[VENT__BOTH_ROOM], achieved[VENT__BOTH_ROOM];
    vent_network_observable_name(s->network, *o, sizeof name, name);
    vent__text_add(&b->verdict, "%s%s cannot be %s; the nearest is %s",
                   b->verdict.length ? " " : "", name, vent__in_both(a->wanted, unit, wanted),
                   vent__in_both(a->achieved, unit, achieved));
    say_why(s, b, i);
}

static void say_open(const vent__search *s, vent_balanced *b)
{
    int dampers_there = 0, open = 0;
    for (size_t j = 0; j < s->settings; ++j) {
        dampers_there += vent__open_end_of(s, j) != 0;
        open += b->setting[j].is_wide_open;
    }
    for (size_t j = 0, said = 0; j < s->settings; ++j) {
        char name[VENT__NAME_ROOM] = "";
        if (!b->setting[j].is_wide_open)
            continue;
        vent_network_parameter_name(s->network, b->parameter[j], sizeof name, name);
        vent__text_add(&b->verdict, "%s%s", said++ ? ", " : "; wide open: ", name);
    }
    if (dampers_there && !open)
        vent__text_add(&b->verdict,
                       "; no damper is wide open: the fan makes more than the targets need");
    vent__text_add(&b->verdict, ".");
}

void vent__compose_verdict(const vent__search *s, vent_balanced *b)
{
    if (b->is_met) {
        vent__text_add(&b->verdict, "Balanced: %d of %d targets within tolerance", b->targets,
                       b->targets);
        say_open(s, b);
        return;
    }
    for (size_t i = 0; i < s->targets; ++i)
        if (!b->achievement[i].is_met)
            say_target(s, b, i);
}
