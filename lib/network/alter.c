/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes to a stack that was built: a fitting put in later, another fan. */
#include "base/fail.h"
#include "base/memory.h"
#include "network/model.h"
#include "physics/laws.h"

static const double COUNT_LIMIT = 1e6;

/* Links an item in behind another one of the run, or before all where that is -1. */
static int link_in(vent__model *model, int run, int behind, vent__item item)
{
    vent__run *r = &model->run[run];
    int number = model->items++;
    item.next = behind >= 0 ? model->item[behind].next : r->first;
    model->item[number] = item;
    if (behind >= 0)
        model->item[behind].next = number;
    else
        r->first = number;
    if (r->last == behind)
        r->last = number;
    ++r->count;
    return number;
}

/* Fans know their rank in the run. */
static void move_fans(vent__model *model, int run, int behind, int added)
{
    for (int i = 0; i < model->fans; ++i)
        if (model->fan[i].run == run && model->fan[i].item > behind)
            model->fan[i].item += added;
}

int vent_network_insert_fitting(vent_network *network, int run, int item, vent_fitting fitting,
                                double count, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err) ||
        !vent__fitting_check(&fitting, __func__, err) || !VENT__RANGE(count, "", 0, COUNT_LIMIT))
        return -1;
    if (item != -1 && vent__model_item(network->model, run, item) < 0) {
        VENT__FAIL(VENT_E_NOT_FOUND, "item", item, "%s: run '%.60s' has no item %d", __func__,
                   vent__run_name(network->model, run), item);
        return -1;
    }
    vent__model *model = vent__model_writable(network, __func__, err);
    if (!model)
        return -1;
    if (!vent__reserve(&model->item, &model->item_room, model->items + 1, sizeof *model->item)) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for another item", __func__);
        return -1;
    }
    int behind = vent__model_item(model, run, item);
    move_fans(model, run, item, item < 0 ? 2 : 1);
    if (item < 0) { /* a fitting stands behind a pipe */
        vent__item start = model->item[model->run[run].first];
        start.amount = 0;
        behind = link_in(model, run, -1, start);
    }
    link_in(model, run, behind,
            (vent__item){.kind = VENT__FITTING, .amount = count, .fitting = fitting});
    vent__model_extend_shape(model, 32 + VENT__FITTING, run, item);
    return item < 0 ? 1 : item + 1;
}

bool vent_network_set_fan(vent_network *network, int run, int item, const vent_fan *fan,
                          vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(fan) ||
        !vent__model_has_run(network->model, __func__, run, err))
        return false;
    int number = vent__model_item(network->model, run, item);
    if (number < 0 || network->model->item[number].kind != VENT__FAN)
        return VENT__FAIL(VENT_E_NOT_FOUND, "item", item, "%s: item %d of run '%.60s' is not a fan",
                          __func__, item, vent__run_name(network->model, run));
    vent__model *model = vent__model_writable(network, __func__, err);
    vent_fan *copy = model ? vent_fan_copy(fan, err) : NULL;
    if (!copy)
        return false;
    vent_fan **place = &model->fan[model->item[number].fan].fan;
    vent_fan_free(*place);
    *place = copy;
    return true;
}
