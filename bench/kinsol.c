/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "kinsol.h"

#ifndef VENT_BENCH_SUNDIALS

kinsol *kinsol_new(const vent_network *network, vent_error *err)
{
    (void)network;
    (void)err;
    return NULL;
}

int kinsol_solve(kinsol *peer)
{
    (void)peer;
    return -1;
}

double kinsol_flow(const kinsol *peer, int run)
{
    (void)peer;
    (void)run;
    return 0;
}

void kinsol_free(kinsol *peer)
{
    (void)peer;
}

#else

#include <kinsol/kinsol.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include "network/equations.h"
#include "network/newton.h"

typedef struct entry {
    int32_t row, column;
    double value;
    int32_t slope_of; /* position whose slope is subtracted, -1 for a constant */
} entry;

struct kinsol {
    vent_workspace *ws;
    int unknowns, entries, room;
    int32_t *flow, *pressure; /* [positions] unknown, -1 for none */
    double *mass;             /* [positions] kg/s */
    entry *entry;             /* by column */
    SUNContext context;
    N_Vector u, u_scale, f_scale;
    SUNMatrix jacobian;
    SUNLinearSolver klu;
    void *memory;
};

/* Where run k begins: a junction's unknown, or -1 at the soil. */
static int start_of(const kinsol *p, int k)
{
    const vent__program *program = p->ws->program;
    int link = program->link[k];
    return p->pressure[link > 0 ? program->next[program->outlet[link - 1]] : k];
}

static int end_of(const kinsol *p, int k)
{
    int next = p->ws->program->next[k];
    return next < 0 ? -1 : p->pressure[next];
}

static void take_flows(const kinsol *p, const double *u)
{
    const vent__program *program = p->ws->program;
    for (int k = 0; k < program->runs; ++k)
        p->mass[k] = program->link[k] < 0 ? 0 : u[p->flow[k]];
}

static int residual(N_Vector uu, N_Vector ff, void *peer)
{
    const kinsol *p = peer;
    vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    const double *u = N_VGetArrayPointer(uu);
    double *f = N_VGetArrayPointer(ff);
    take_flows(p, u);
    vent__run_laws(ws, p->mass, false);
    for (int k = 0; k < program->runs; ++k)
        if (p->pressure[k] >= 0)
            f[p->pressure[k]] = -p->mass[k];
    for (int k = 0; k < program->runs; ++k) {
        if (program->link[k] < 0)
            continue;
        int start = start_of(p, k), end = end_of(p, k);
        double drop = (start < 0 ? 0 : u[start]) - (end < 0 ? ws->model->wind_pressure : u[end]);
        if (program->soil[k] >= 0) {
            vent__slope soil = vent__soil_of(ws, k, p->mass[k]);
            drop -= soil.value;
            ws->slope[k] += soil.slope;
        }
        f[p->flow[k]] = drop - ws->loss[k] + ws->lift[k];
        if (end >= 0)
            f[end] += p->mass[k];
        if (program->link[k] > 0)
            f[start] -= p->mass[k];
    }
    return 0;
}

/* The slopes are those of the last residual, which is at the same flows. */
static int jacobian(N_Vector u, N_Vector f, SUNMatrix matrix, void *peer, N_Vector a, N_Vector b)
{
    (void)u, (void)f, (void)a, (void)b;
    const kinsol *p = peer;
    sunindextype *first = SUNSparseMatrix_IndexPointers(matrix);
    sunindextype *row = SUNSparseMatrix_IndexValues(matrix);
    double *value = SUNSparseMatrix_Data(matrix);
    int column = 0;
    for (int i = 0; i < p->entries; ++i) {
        const entry *e = &p->entry[i];
        while (column <= e->column)
            first[column++] = i;
        row[i] = e->row;
        value[i] = e->slope_of < 0 ? e->value : -p->ws->slope[e->slope_of];
    }
    first[column] = p->entries;
    return 0;
}

static void add(kinsol *p, int row, int column, double value, int slope_of)
{
    if (row < 0 || column < 0)
        return;
    if (p->entries == p->room) {
        p->room = 2 * p->room + 64;
        p->entry = realloc(p->entry, (size_t)p->room * sizeof *p->entry);
    }
    p->entry[p->entries++] = (entry){row, column, value, slope_of};
}

static int by_place(const void *a, const void *b)
{
    const entry *x = a, *y = b;
    int columns = (x->column > y->column) - (x->column < y->column);
    return columns ? columns : (x->row > y->row) - (x->row < y->row);
}

static void number(kinsol *p)
{
    const vent__program *program = p->ws->program;
    for (int k = 0; k < program->runs; ++k) {
        p->flow[k] = program->link[k] < 0 ? -1 : p->unknowns++;
        p->pressure[k] = vent__is_leaf(program, k) ? -1 : p->unknowns++;
    }
    for (int k = 0; k < program->runs; ++k) {
        if (program->link[k] < 0)
            continue;
        int start = start_of(p, k), end = end_of(p, k), flow = p->flow[k];
        add(p, flow, flow, 0, k);
        add(p, flow, start, 1, -1);
        add(p, flow, end, -1, -1);
        add(p, start, flow, -1, -1);
        add(p, end, flow, 1, -1);
    }
    qsort(p->entry, (size_t)p->entries, sizeof *p->entry, by_place);
}

static void set_scales(kinsol *p)
{
    vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    double most = 0;
    vent__first_flows(ws);
    vent__rest rest = vent__evaluate(ws, ws->flow);
    for (int k = 0; k < program->runs; ++k)
        most = fmax(most, fabs(ws->flow[k]));
    for (int k = 0; k < program->runs; ++k) {
        if (p->flow[k] >= 0) {
            NV_Ith_S(p->u_scale, p->flow[k]) = 1 / most;
            NV_Ith_S(p->f_scale, p->flow[k]) = 1 / rest.scale;
        }
        if (p->pressure[k] >= 0) {
            NV_Ith_S(p->u_scale, p->pressure[k]) = 1 / rest.scale;
            NV_Ith_S(p->f_scale, p->pressure[k]) = 1 / most;
        }
    }
}

/* Flows that the library's own first steps give; pressures follow from the discharge. */
static void start(kinsol *p)
{
    vent_workspace *ws = p->ws;
    double *u = N_VGetArrayPointer(p->u);
    vent__first_flows(ws);
    vent__evaluate(ws, ws->flow);
    for (int k = 0; k < ws->program->runs; ++k) {
        if (p->flow[k] >= 0)
            u[p->flow[k]] = ws->flow[k];
        if (p->pressure[k] >= 0)
            u[p->pressure[k]] = ws->start[k];
    }
}

kinsol *kinsol_new(const vent_network *network, vent_error *err)
{
    kinsol *p = calloc(1, sizeof *p);
    p->ws = vent_workspace_new(network, err);
    if (!p->ws || !vent__lay_out(p->ws, network->model))
        abort();
    size_t runs = (size_t)p->ws->program->runs;
    p->flow = malloc(runs * sizeof *p->flow);
    p->pressure = malloc(runs * sizeof *p->pressure);
    p->mass = malloc(runs * sizeof *p->mass);
    number(p);
    SUNContext_Create(NULL, &p->context);
    p->u = N_VNew_Serial(p->unknowns, p->context);
    p->u_scale = N_VClone(p->u);
    p->f_scale = N_VClone(p->u);
    p->jacobian = SUNSparseMatrix(p->unknowns, p->unknowns, p->entries, CSC_MAT, p->context);
    p->klu = SUNLinSol_KLU(p->u, p->jacobian, p->context);
    p->memory = KINCreate(p->context);
    KINInit(p->memory, residual, p->u);
    KINSetUserData(p->memory, p);
    KINSetLinearSolver(p->memory, p->klu, p->jacobian);
    KINSetJacFn(p->memory, jacobian);
    KINSetMaxSetupCalls(p->memory,
                        1); /* the exact Jacobian each time: faster here than keeping it */
    KINSetFuncNormTol(p->memory, 1e-13);
    KINSetScaledStepTol(p->memory, 1e-15);
    KINSetNumMaxIters(p->memory, 60);
    KINSetMaxNewtonStep(p->memory, 1e30);
    KINSetPrintLevel(p->memory, 0);
    set_scales(p);
    return p;
}

int kinsol_solve(kinsol *p)
{
    start(p);
    int flag = KINSol(p->memory, p->u, KIN_LINESEARCH, p->u_scale, p->f_scale);
    long steps = 0;
    KINGetNumNonlinSolvIters(p->memory, &steps);
    return flag < 0 ? -1 : (int)steps;
}

double kinsol_flow(const kinsol *p, int run)
{
    return NV_Ith_S(p->u, p->flow[p->ws->program->position[run]]);
}

void kinsol_free(kinsol *p)
{
    if (!p)
        return;
    KINFree(&p->memory);
    SUNLinSolFree(p->klu);
    SUNMatDestroy(p->jacobian);
    N_VDestroy(p->u);
    N_VDestroy(p->u_scale);
    N_VDestroy(p->f_scale);
    SUNContext_Free(&p->context);
    vent_workspace_free(p->ws);
    free(p->flow);
    free(p->pressure);
    free(p->mass);
    free(p->entry);
    free(p);
}

#endif
