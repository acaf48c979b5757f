/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Suction points that share soil. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/model.h"

static const double COUPLING_LIMIT = 1e9; /* Pa s/m3 */

static bool is_suction_point(const vent__model *model, const char *function, const char *argument,
                             int node, vent_error *err)
{
    if (!vent__model_has_node(model, function, argument, node, err))
        return false;
    if (model->node[node].kind == VENT__SUCTION)
        return true;
    return vent__fail(err, VENT_E_NOT_FOUND, function, argument, node, node, NAN, NAN,
                      "%s: %s, node '%.60s', is no suction point", function, argument,
                      vent__node_name(model, node));
}

vent__coupling *vent__model_coupling(const vent__model *model, int a, int b)
{
    for (int i = 0; i < model->couplings; ++i) {
        vent__coupling *c = &model->coupling[i];
        if ((c->a == a && c->b == b) || (c->a == b && c->b == a))
            return c;
    }
    return NULL;
}

/* Of a soil whose flow is linear at rest its resistance there; of others there is none to speak of. */
static double resistance_at_rest(const vent__model *model, int node)
{
    const vent_soil *soil = &model->node[node].soil;
    return soil->law == VENT_SOIL_TWO_TERM ? soil->a : INFINITY;
}

static bool is_passive(const vent__model *model, const vent__coupling *c, const char *function,
                       vent_error *err)
{
    static const double ROUNDING = 1e-9;
    double most = sqrt(resistance_at_rest(model, c->a) * resistance_at_rest(model, c->b));
    /* where one is infinite the other may be 0: nothing is known */
    return !(c->resistance > most * (1 + ROUNDING)) ||
           vent__fail(err, VENT_E_ARGUMENT, function, "resistance", -1, c->resistance, 0, most,
                      "%s: '%.60s' and '%.60s' share %.6g Pa s/m3, but no soil that only resists "
                      "shares more than the root of the product of both own resistances, %.6g",
                      function, vent__node_name(model, c->a), vent__node_name(model, c->b),
                      c->resistance, most);
}

bool vent__model_soils_are_passive(const vent__model *model, const char *function, vent_error *err)
{
    for (int i = 0; i < model->couplings; ++i)
        if (!is_passive(model, &model->coupling[i], function, err))
            return false;
    return true;
}

/* The i-th byte of "a~b". */
static char letter(const char *a, const char *b, size_t i)
{
    size_t length = strlen(a);
    return i < length ? a[i] : i == length ? '~' : b[i - length - 1];
}

static bool reads_alike(const char *a, const char *b, const char *c, const char *d)
{
    size_t length = strlen(a) + strlen(b);
    if (strlen(c) + strlen(d) != length)
        return false;
    for (size_t i = 0; i <= length; ++i)
        if (letter(a, b, i) != letter(c, d, i))
            return false;
    return true;
}

/* A pair whose address would read as another's, which takes a name with a tilde in it. */
static bool has_own_name(const vent__model *model, int a, int b, const char *function,
                         vent_error *err)
{
    const char *first = vent__node_name(model, a), *second = vent__node_name(model, b);
    if (!strchr(first, '~') && !strchr(second, '~'))
        return true;
    for (int i = 0; i < model->couplings; ++i) {
        const char *one = vent__node_name(model, model->coupling[i].a);
        const char *other = vent__node_name(model, model->coupling[i].b);
        if (reads_alike(first, second, one, other) || reads_alike(first, second, other, one) ||
            reads_alike(second, first, one, other))
            return vent__fail(err, VENT_E_DUPLICATE, function, "b", b, NAN, NAN, NAN,
                              "%s: '%.60s' with '%.60s' would have the address of '%.60s' with "
                              "'%.60s'; give them names without a tilde",
                              function, first, second, one, other);
    }
    return true;
}

bool vent_network_couple(vent_network *network, int a, int b, double resistance, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !is_suction_point(network->model, __func__, "a", a, err) ||
        !is_suction_point(network->model, __func__, "b", b, err) ||
        !VENT__RANGE(resistance, "Pa s/m3", 0, COUPLING_LIMIT))
        return false;
    if (a == b)
        return VENT__FAIL(
            VENT_E_ARGUMENT, "b", b,
            "%s: a and b are both node '%.60s'; what a suction point does to itself is "
            "its own soil law",
            __func__, vent__node_name(network->model, a));
    bool is_new = !vent__model_coupling(network->model, a, b);
    if (!is_passive(network->model, &(vent__coupling){a, b, resistance}, __func__, err) ||
        (is_new && !has_own_name(network->model, a, b, __func__, err)))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (!model)
        return false;
    vent__coupling *stated = vent__model_coupling(model, a, b);
    if (stated) {
        stated->resistance = resistance;
        return true;
    }
    if (!vent__reserve(&model->coupling, &model->coupling_room, model->couplings,
                       sizeof *model->coupling))
        return VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for another coupling", __func__);
    model->coupling[model->couplings++] = (vent__coupling){a, b, resistance};
    vent__model_extend_shape(model, 64, a, b);
    return true;
}
