/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What does the thing on top of the stack cost? An invented building and invented fans; not a design.
 *
 *   ridge_house [FOLDER]    reads the CSV files of FOLDER, ridge_house unless told otherwise */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

enum { LINE = 512, FIELDS = 8, POINTS = 32, PITS = 2, TOPS = 16, COLUMNS = 9, CELL = 64 };

#if defined(__GNUC__)
__attribute__((format(printf, 1, 2), noreturn))
#endif
static void
stop(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vfprintf(stderr, format, arguments);
    va_end(arguments);
    fputc('\n', stderr);
    exit(EXIT_FAILURE);
}

/* ---- CSV: remarks begin with #, the heading is as the program expects it, no quotes */

typedef struct table {
    FILE *file;
    const char *name;
    char line[LINE];
    char *field[FIELDS];
    int fields;
} table;

/* The next line that is no remark, split at its commas; empty fields stay empty. */
static bool next_row(table *t)
{
    do {
        if (!fgets(t->line, LINE, t->file)) {
            fclose(t->file);
            return false;
        }
    } while (t->line[0] == '#');
    t->line[strcspn(t->line, "\r\n")] = 0;
    int fields = 0;
    for (char *at = t->line; at; ++fields) {
        if (fields == FIELDS)
            stop("%s: more than %d fields: %s...", t->name, FIELDS, t->line);
        t->field[fields] = at;
        at = strchr(at, ',');
        if (at)
            *at++ = 0;
    }
    if (t->fields && fields != t->fields)
        stop("%s: %d fields where %d are wanted: %s...", t->name, fields, t->fields, t->line);
    t->fields = fields;
    return true;
}

static table open_table(const char *folder, const char *name, const char *heading)
{
    char path[LINE];
    table t = {.name = name};
    snprintf(path, sizeof path, "%s/%s", folder, name);
    t.file = fopen(path, "r");
    if (!t.file)
        stop("%s cannot be read", path);
    if (!next_row(&t))
        stop("%s is empty", path);
    for (int i = 0; i < t.fields; ++i) {
        size_t length = strlen(t.field[i]);
        if (strncmp(heading, t.field[i], length) != 0 ||
            heading[length] != (i + 1 < t.fields ? ',' : 0))
            stop("%s: the heading is not %s", path, heading);
        heading += length + 1;
    }
    return t;
}

static double number(const table *t, int field)
{
    char *end;
    double value = strtod(t->field[field], &end);
    if (end == t->field[field] || *end)
        stop("%s: '%s' of '%s' is not a number", t->name, t->field[field], t->field[0]);
    return value;
}

/* ---- the stack */

typedef struct stack {
    vent_network *net;
    int pits;
    int pit[PITS];
} stack;

static vent_network *read_weather(const char *folder, vent_error *err)
{
    table t = open_table(folder, "weather.csv",
                         "soil_gas_f,outdoors_f,outdoors_humidity,altitude_ft,building_pa,wind_pa");
    if (!next_row(&t))
        stop("%s has no row", t.name);
    double pressure = vent_pressure_at_altitude(number(&t, 3) * VENT_FOOT);
    vent_air soil_gas = vent_air_moist(VENT_FAHRENHEIT(number(&t, 0)), pressure, 1, err);
    vent_air outdoors =
        vent_air_moist(VENT_FAHRENHEIT(number(&t, 1)), pressure, number(&t, 2), err);
    vent_network *net = vent_network_new(soil_gas, outdoors, err);
    vent_network_set_building_pressure(net, number(&t, 4), err);
    vent_network_set_wind_pressure(net, number(&t, 5), err);
    fclose(t.file);
    return net;
}

static void read_nodes(const char *folder, stack *s, vent_error *err)
{
    table t = open_table(folder, "nodes.csv",
                         "name,kind,height_ft,soil_lps_at_1_pa,soil_exponent,wye_degrees");
    while (next_row(&t)) {
        const char *name = t.field[0], *kind = t.field[1];
        double height = number(&t, 2) * VENT_FOOT;
        if (!strcmp(kind, "suction point")) {
            if (s->pits == PITS)
                stop("%s: more than %d suction points", t.name, PITS);
            vent_soil soil = vent_soil_power(number(&t, 3) * VENT_LITRE_S, number(&t, 4), err);
            s->pit[s->pits++] = vent_network_suction_point(s->net, name, soil, err);
        } else if (!strcmp(kind, "junction")) {
            vent_junction law = vent_wye(VENT_RADIANS(number(&t, 5)), err);
            int node = vent_network_junction(s->net, name, law, err);
            vent_network_set_height(s->net, node, height, err);
        } else if (!strcmp(kind, "discharge")) {
            vent_network_discharge(s->net, name, vent_open_end(), height, err);
        } else {
            stop("%s: '%s' is no kind of node", t.name, kind);
        }
    }
    if (s->pits != PITS)
        stop("%s: the tables below show %d suction points", t.name, PITS);
}

static void read_runs(const char *folder, vent_network *net, vent_error *err)
{
    table t = open_table(folder, "runs.csv", "name,from,to,pipe,size_inch,length_ft,gas_f");
    while (next_row(&t)) {
        int from = vent_network_find_node(net, t.field[1], err);
        int to = vent_network_find_node(net, t.field[2], err);
        vent_pipe pipe = vent_pipe_find(t.field[3], number(&t, 4) * VENT_INCH, err);
        int run = vent_network_run(net, t.field[0], from, to, pipe, number(&t, 5) * VENT_FOOT, err);
        vent_network_set_temperature(net, run, VENT_FAHRENHEIT(number(&t, 6)), err);
    }
}

static void read_items(const char *folder, vent_network *net, const vent_fan *fan, vent_error *err)
{
    table t = open_table(folder, "items.csv", "run,part,count,degrees");
    while (next_row(&t)) {
        int run = vent_network_find_run(net, t.field[0], err);
        const char *part = t.field[1];
        double count = number(&t, 2);
        if (!strcmp(part, "flush entry")) {
            vent_network_fitting(net, run, vent_entry_flush(), count, err);
        } else if (!strcmp(part, "drain elbow")) {
            vent_fitting elbow = vent_drain_elbow(VENT_RADIANS(number(&t, 3)), err);
            vent_network_fitting(net, run, elbow, count, err);
        } else if (!strcmp(part, "fan")) {
            vent_network_fan(net, run, fan, err);
        } else {
            stop("%s: '%s' is no part", t.name, part);
        }
    }
}

static vent_fan *read_fan(const char *folder, const char *name, const char *file, vent_error *err)
{
    double flow[POINTS], pressure[POINTS], power[POINTS];
    size_t n = 0;
    table t = open_table(folder, file, "flow_cfm,pressure_inwc,power_w");
    while (next_row(&t)) {
        if (n == POINTS)
            stop("%s: more than %d points", t.name, POINTS);
        flow[n] = number(&t, 0) * VENT_CFM;
        pressure[n] = number(&t, 1) * VENT_INWC;
        power[n++] = number(&t, 2);
    }
    return vent_fan_new_at(name, n, flow, pressure, power, VENT_STANDARD_DENSITY, err);
}

static stack read_stack(const char *folder, const vent_fan *fan, vent_error *err)
{
    stack s = {.net = read_weather(folder, err)};
    read_nodes(folder, &s, err);
    read_runs(folder, s.net, err);
    read_items(folder, s.net, fan, err);
    return s;
}

/* ---- what stands on top */

typedef struct top {
    char name[40], remark[80];
    vent_termination termination;
    double k, k_uncertainty, flow, exit_velocity; /* m3/s, m/s */
    double vacuum[PITS];                          /* Pa */
} top;

static vent_termination read_termination(const table *t, vent_error *err)
{
    const char *kind = t->field[1];
    if (!strcmp(kind, "open end"))
        return vent_open_end();
    if (!strcmp(kind, "elbow"))
        return vent_end_elbow(VENT_RADIANS(number(t, 2)), number(t, 3), err);
    if (!strcmp(kind, "tee"))
        return vent_end_tee();
    if (!strcmp(kind, "guard"))
        return vent_end_guard(number(t, 4) * VENT_MM, number(t, 5) * VENT_MM, err);
    if (!strcmp(kind, "cap"))
        return vent_rain_cap(number(t, 6), err);
    if (strcmp(kind, "return") != 0)
        stop("%s: '%s' is no kind of termination", t->name, kind);
    return vent_end_return(number(t, 3), err);
}

static int read_tops(const char *folder, top tops[TOPS], vent_error *err)
{
    int n = 0;
    table t = open_table(folder, "terminations.csv",
                         "name,kind,degrees,radius_ratio,wire_mm,opening_mm,gap_ratio,remark");
    while (next_row(&t)) {
        if (n == TOPS)
            stop("%s: more than %d terminations", t.name, TOPS);
        snprintf(tops[n].name, sizeof tops[n].name, "%s", t.field[0]);
        snprintf(tops[n].remark, sizeof tops[n].remark, "%s", t.field[7]);
        tops[n++].termination = read_termination(&t, err);
    }
    if (n < 2)
        stop("%s: an open end and something to hold against it are wanted", t.name);
    return n;
}

/* What the ledger says of the thing on top. */
static vent_ledger_line termination_line(const vent_solution *point)
{
    vent_ledger_line line = {0};
    for (size_t i = 0; line.kind != VENT_LINE_TERMINATION; ++i)
        if (!vent_solution_ledger_line(point, i, &line))
            break;
    return line;
}

static void solve_tops(const stack *s, int n, top tops[], vent_error *err)
{
    vent_workspace *workspace = vent_workspace_new(s->net, err);
    for (int i = 0; i < n; ++i) {
        vent_network_set_termination(s->net, tops[i].termination, err);
        vent_solution *point = vent_network_solve(s->net, workspace, err);
        vent_ledger_line line = termination_line(point);
        tops[i].k = line.k;
        tops[i].k_uncertainty = line.k_uncertainty;
        tops[i].flow = vent_solution_discharge_flow(point);
        tops[i].exit_velocity = vent_solution_exit_velocity(point);
        for (int k = 0; k < PITS; ++k)
            tops[i].vacuum[k] = -vent_solution_pressure(point, s->pit[k]);
        vent_solution_free(point);
    }
    vent_network_set_termination(s->net, tops[0].termination, err);
    vent_workspace_free(workspace);
}

static double least_rise(const vent_termination *termination)
{
    vent_stream stream[8];
    double least = 1;
    for (int i = vent_termination_streams(*termination, stream); i-- > 0;)
        least = stream[i].direction[2] < least ? stream[i].direction[2] : least;
    return least;
}

static const char *where_the_air_goes(const vent_termination *termination)
{
    vent_stream stream[8];
    int streams = vent_termination_streams(*termination, stream);
    double rise = least_rise(termination);
    if (rise > 0.99)
        return "straight up";
    if (rise > 0.01)
        return "aslant, upward";
    if (rise < -0.99)
        return "straight down";
    if (rise < -0.01)
        return "aslant, downward";
    return streams == 1 ? "level, one way" : streams == 2 ? "level, both ways" : "level, all round";
}

/* Engineering judgement with bounds of our own, not a rule: local codes rule. */
static const double LITTLE = 0.02;      /* of the flow */
static const double CLOGS_BELOW = 6e-3; /* m of clear opening */

static const char *verdict(const top *one, double open_flow)
{
    if (least_rise(&one->termination) < -0.01)
        return "not acceptable: sends the air back down to the building";
    if (!vent_termination_is_upward(one->termination))
        return "poor: throws the air sideways, toward openings and people";
    if (one->termination.family == VENT_TERMINATION_GUARD &&
        one->termination.geometry[1] < CLOGS_BELOW)
        return "poor: leaves upward, but so fine a mesh ices over and clogs";
    if (one->flow < (1 - LITTLE) * open_flow)
        return "fair: leaves upward, at a price";
    return "good: costs little and leaves upward";
}

/* ---- what is printed */

static void print_answer(int n, const top tops[])
{
    int upward = 0, dearest = 1, cheapest = 1;
    for (int i = 0; i < n; ++i)
        upward += vent_termination_is_upward(tops[i].termination);
    for (int i = 2; i < n; ++i) {
        dearest = tops[i].flow < tops[dearest].flow ? i : dearest;
        cheapest = tops[i].flow > tops[cheapest].flow ? i : cheapest;
    }
    double open = tops[0].flow;
    printf("What does the thing on top cost me?\n");
    printf("With an %s the stack moves %.1f cfm. Of that the %s takes %.1f cfm (%.1f %%),\n"
           "the least of all here, and the %s %.1f cfm (%.1f %%), the most.\n",
           tops[0].name, open / VENT_CFM, tops[cheapest].name,
           (open - tops[cheapest].flow) / VENT_CFM, 100 * (1 - tops[cheapest].flow / open),
           tops[dearest].name, (open - tops[dearest].flow) / VENT_CFM,
           100 * (1 - tops[dearest].flow / open));
    printf("Where the air goes matters more: %d of these %d let it leave upward.\n", upward, n);
}

static void print_pit_heads(const stack *s)
{
    for (int k = 0; k < PITS; ++k) {
        char name[40];
        vent_network_node_name(s->net, s->pit[k], sizeof name, name);
        printf("  %15s", name);
    }
}

static void print_vacuums(const double vacuum[PITS])
{
    for (int k = 0; k < PITS; ++k)
        printf("  %8.3f %6.1f", vacuum[k] / VENT_INWC, vacuum[k]);
}

static void print_tops(const stack *s, int n, const top tops[])
{
    double open = tops[0].flow;
    printf("\n%-17s  %11s  %13s  %13s  %6s", "", "", "", "against the", "leaves");
    print_pit_heads(s);
    printf("\n%-17s  %11s  %13s  %13s  %6s  %15s  %15s\n", "", "", "flow", "open end", "at",
           "vacuum", "vacuum");
    printf("%-17s  %5s %5s  %6s %6s  %6s %6s  %6s  %8s %6s  %8s %6s\n", "on top", "K", "+-", "cfm",
           "L/s", "cfm", "%", "m/s", "in. w.c.", "Pa", "in. w.c.", "Pa");
    for (int i = 0; i < n; ++i) {
        printf("%-17s  %5.2f %5.2f  %6.1f %6.1f  %+6.1f %+6.1f  %6.1f", tops[i].name, tops[i].k,
               tops[i].k_uncertainty, tops[i].flow / VENT_CFM, tops[i].flow / VENT_LITRE_S,
               (tops[i].flow - open) / VENT_CFM, 100 * (tops[i].flow / open - 1),
               tops[i].exit_velocity);
        print_vacuums(tops[i].vacuum);
        putchar('\n');
    }
    puts("+- is the standard uncertainty of K; smaller differences in K mean nothing.");
    printf("\n%-17s  %-16s  %s\n", "on top", "the air goes", "verdict and reason");
    for (int i = 0; i < n; ++i)
        printf("%-17s  %-16s  %s%s%s\n", tops[i].name, where_the_air_goes(&tops[i].termination),
               verdict(&tops[i], open), tops[i].remark[0] ? "; " : "", tops[i].remark);
    puts("Verdicts are engineering judgement on clean parts; your local code decides.");
}

/* A number with so many decimals; nothing where there is none, no minus before a bare zero. */
static void figures(char text[CELL], int decimals, double value)
{
    snprintf(text, CELL, "%.*f", decimals, isnan(value) ? 0 : value);
    if (isnan(value))
        text[0] = 0;
    else if (strtod(text, NULL) == 0)
        snprintf(text, CELL, "%.*f", decimals, 0.0);
}

typedef struct ledger_row {
    char cell[COLUMNS][CELL];
} ledger_row;

static ledger_row read_ledger_row(const vent_solution *point, size_t i)
{
    vent_ledger_line line;
    ledger_row row;
    vent_solution_ledger_line(point, i, &line);
    snprintf(row.cell[0], CELL, "%s", line.where);
    snprintf(row.cell[1], CELL, "%s", line.what);
    figures(row.cell[2], 3, line.k);
    figures(row.cell[3], 3, line.k_uncertainty);
    figures(row.cell[4], 0, vent_solution_ledger_velocity(point, i) / VENT_FPM);
    figures(row.cell[5], 1, line.velocity_pressure);
    figures(row.cell[6], 1, line.loss);
    figures(row.cell[7], 1, 100 * line.share);
    figures(row.cell[8], 2, line.flow_cost / VENT_CFM);
    return row;
}

/* Columns as wide as they need be, words to the left, numbers to the right. */
static void print_rows(size_t n, const ledger_row rows[])
{
    int width[COLUMNS] = {0}, all = 2 * (COLUMNS - 1);
    for (int k = 0; k < COLUMNS; ++k) {
        for (size_t i = 0; i < n; ++i) {
            int length = (int)strlen(rows[i].cell[k]);
            width[k] = length > width[k] ? length : width[k];
        }
        all += width[k];
    }
    for (size_t i = 0; i < n; ++i) {
        for (int k = 0; k < COLUMNS; ++k)
            printf("%s%*s", k ? "  " : "", k < 2 ? -width[k] : width[k], rows[i].cell[k]);
        putchar('\n');
        for (int dash = 0; i == 1 && dash <= all; ++dash)
            putchar(dash < all ? '-' : '\n');
    }
}

static void print_ledger(const stack *s, vent_error *err)
{
    vent_solution *point = vent_network_solve(s->net, NULL, err);
    size_t n = vent_solution_ledger_size(point);
    ledger_row *rows = calloc(n + 2, sizeof *rows);
    if (!rows)
        stop("out of memory");
    rows[0] = (ledger_row){{"where", "what", "K", "+-", "velocity", "velocity pressure", "loss",
                            "share of fan", "flow cost"}};
    rows[1] = (ledger_row){{"", "", "", "", "[ft/min]", "[Pa]", "[Pa]", "[%]", "[cfm]"}};
    for (size_t i = 0; i < n; ++i)
        rows[i + 2] = read_ledger_row(point, i);

    puts("\nThe ledger of the stack with the open end, in the order the air meets the parts.\n"
         "Flow cost: what more would move if the part cost nothing, to first order.\n");
    print_rows(n + 2, rows);
    puts("+- is the standard uncertainty of K: large for moulded drain elbows, of which no "
         "published\n"
         "measurements were found. Where many stand in a row, measure what they take.");
    for (size_t i = 0; i < vent_solution_warning_count(point); ++i) {
        vent_warning warning;
        vent_solution_warning(point, i, &warning);
        printf("%s: %s\n", warning.flag == VENT_WARN_NEAR_RANGE ? "Remark" : "Warning",
               warning.message);
    }
    free(rows);
    vent_solution_free(point);
}

static void print_fan(const char *name, const stack *s, vent_error *err)
{
    vent_solution *point = vent_network_solve(s->net, NULL, err);
    vent_fan_point fan = {0};
    double vacuum[PITS];
    for (int k = 0; k < PITS; ++k)
        vacuum[k] = -vent_solution_pressure(point, s->pit[k]);
    vent_solution_fan(point, 0, &fan);
    double flow = vent_solution_discharge_flow(point);
    printf("%-17s  %6.1f %6.1f  %6.1f  %11.0f", name, flow / VENT_CFM, flow / VENT_LITRE_S,
           fan.power, 100 * fan.shut_off_share);
    print_vacuums(vacuum);
    putchar('\n');
    vent_solution_free(point);
}

static void print_cautions(void)
{
    puts("\nCautions\n"
         "- These results do not replace licensed or certified practice. Local codes rule: on "
         "where\n"
         "  and how the air may leave, on caps and guards, on permits and who may do the work.\n"
         "- Suction under a slab can draw on the rooms and make combustion appliances back-draft:\n"
         "  have them tested before and after.\n"
         "- Electrical work is for those licensed to do it.\n"
         "- Know what is in and under the slab before drilling: post-tension cables, heating, "
         "power,\n"
         "  gas, water, sewers; flooring and mastic may hold asbestos.\n"
         "- Air flow proves nothing about radon: only a radon test shows that it is down.");
}

int main(int argc, char *argv[])
{
    const char *folder = argc > 1 ? argv[1] : "ridge_house";
    vent_error err = VENT_NO_ERROR;
    vent_fan *strong = read_fan(folder, "strong", "fan_strong.csv", &err);
    vent_fan *mild = read_fan(folder, "mild", "fan_mild.csv", &err);
    stack house = read_stack(folder, strong, &err), other = read_stack(folder, mild, &err);
    top tops[TOPS];
    int n = read_tops(folder, tops, &err);
    solve_tops(&house, n, tops, &err);
    if (err.status != VENT_OK)
        stop("%s", err.message);

    puts("Ridge house: an invented building and invented fans; not a design.\n");
    print_answer(n, tops);
    print_tops(&house, n, tops);
    print_ledger(&house, &err);
    puts("\nWould another fan do? The same stack with the open end.\n");
    printf("%-17s  %13s  %6s  %11s", "", "flow", "power", "pressure, %");
    print_pit_heads(&house);
    printf("\n%-17s  %6s %6s  %6s  %11s  %8s %6s  %8s %6s\n", "fan", "cfm", "L/s", "W",
           "of shut-off", "in. w.c.", "Pa", "in. w.c.", "Pa");
    print_fan("strong", &house, &err);
    print_fan("mild", &other, &err);
    print_cautions();

    vent_network_free(house.net);
    vent_network_free(other.net);
    vent_fan_free(strong);
    vent_fan_free(mild);
    if (err.status != VENT_OK)
        stop("%s", err.message);
    return EXIT_SUCCESS;
}
