/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What does the thing on top of the stack cost? An invented building, an invented fan; run it where
 * the folder ridge_house/ is. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

enum { FIELDS = 6, LINE = 256 };

/* Splits a line at its commas; empty fields stay empty. */
static void split(char *line, char *field[FIELDS])
{
    line[strcspn(line, "\r\n")] = 0;
    for (int i = 0; i < FIELDS; ++i) {
        field[i] = line;
        size_t length = strcspn(line, ",");
        line += length;
        if (*line)
            *line++ = 0;
    }
}

/* The next line that is neither a remark nor the heading. */
static char *next_row(FILE *file, char line[LINE], const char *heading)
{
    while (fgets(line, LINE, file))
        if (line[0] != '#' && strncmp(line, heading, strlen(heading)) != 0)
            return line;
    return NULL;
}

static vent_fan *read_fan(vent_error *err)
{
    double flow[32], pressure[32], power[32];
    char line[LINE], *field[FIELDS];
    size_t n = 0;
    FILE *file = fopen("ridge_house/fan.csv", "r");
    while (file && n < 32 && next_row(file, line, "flow")) {
        split(line, field);
        flow[n] = atof(field[0]) * VENT_CFM;
        pressure[n] = atof(field[1]) * VENT_INWC;
        power[n++] = atof(field[2]);
    }
    if (file)
        fclose(file);
    return vent_fan_new_at("example", n, flow, pressure, power, VENT_STANDARD_DENSITY, err);
}

static void add_row(vent_network *net, char *field[FIELDS], const vent_fan *fan, vent_error *err)
{
    const char *kind = field[0], *name = field[1];
    double value = atof(field[4]), second = atof(field[5]);
    if (!strcmp(kind, "suction")) {
        vent_network_suction_point(net, name, vent_soil_power(value, second, err), err);
    } else if (!strcmp(kind, "junction")) {
        int node = vent_network_junction(net, name, vent_wye(VENT_RADIANS(value), err), err);
        vent_network_set_height(net, node, second, err);
    } else if (!strcmp(kind, "discharge")) {
        vent_network_discharge(net, name, vent_open_end(), second, err);
    } else if (!strcmp(kind, "run")) {
        int from = vent_network_find_node(net, field[2], err);
        int to = vent_network_find_node(net, field[3], err);
        vent_pipe pipe = vent_pipe_find("PVC 40", value * VENT_INCH, err);
        vent_network_run(net, name, from, to, pipe, second, err);
    } else {
        int run = vent_network_find_run(net, name, err);
        if (!strcmp(kind, "entry"))
            vent_network_fitting(net, run, vent_entry_flush(), second, err);
        else if (!strcmp(kind, "elbow"))
            vent_network_fitting(net, run, vent_elbow(VENT_RADIANS(value), 1, err), second, err);
        else if (!strcmp(kind, "temperature"))
            vent_network_set_temperature(net, run, VENT_CELSIUS(value), err);
        else if (!strcmp(kind, "fan"))
            vent_network_fan(net, run, fan, err);
    }
}

static vent_network *read_stack(vent_error *err)
{
    char line[LINE], *field[FIELDS];
    vent_air soil_gas = vent_air_moist(VENT_CELSIUS(12), vent_pressure_at_altitude(250), 1, err);
    vent_air outdoors = vent_air_moist(VENT_CELSIUS(-8), soil_gas.pressure, 0.8, err);
    vent_fan *fan = read_fan(err);
    vent_network *net = vent_network_new(soil_gas, outdoors, err);
    FILE *file = fopen("ridge_house/layout.csv", "r");
    while (file && next_row(file, line, "kind")) {
        split(line, field);
        add_row(net, field, fan, err);
    }
    if (file)
        fclose(file);
    vent_fan_free(fan);
    return net;
}

typedef struct top {
    const char *name;
    vent_termination termination;
    const char *verdict;
} top;

/* The verdicts are judgements of engineering, not rules: local codes rule. */
static const char UPWARD[] = "good: leaves upward, nothing in the way";
static const char SIDEWAYS[] = "poor: thrown sideways, towards walls, windows and people";
static const char DOWNWARD[] = "not fit: sends the gas back down to the building";
static const char MESH[] = "fair: leaves upward; look after leaves and ice";
static const char FINE_MESH[] = "poor: leaves upward, but fine mesh ices and clogs first";
static const char SLANTED[] = "fair: leaves slanting; mind what it points at";

static const char *where_the_air_goes(vent_termination termination)
{
    vent_stream stream[8];
    int streams = vent_termination_streams(termination, stream);
    double up = stream[0].direction[2];
    if (up > 0.99)
        return "straight up";
    if (up > 0.5)
        return "slanting up";
    if (up < -0.5)
        return "straight down";
    return streams == 1 ? "level, one way" : streams == 2 ? "level, both ways" : "level, all round";
}

static void print_tops(vent_network *net, vent_error *err)
{
    const double coarse = 12.7e-3, fine = 1.6e-3; /* m from wire to wire, centres */
    const top tops[] = {
        {"open end", vent_open_end(), UPWARD},
        {"45 degree elbow", vent_end_elbow(VENT_RADIANS(45), 1, err), SLANTED},
        {"90 degree elbow", vent_end_elbow(VENT_RADIANS(90), 1, err), SIDEWAYS},
        {"tee", vent_end_tee(), SIDEWAYS},
        {"coarse mesh guard", vent_end_guard(1.6e-3, coarse - 1.6e-3, err), MESH},
        {"fine mesh guard", vent_end_guard(0.3e-3, fine - 0.3e-3, err), FINE_MESH},
        {"rain cap, half bore gap", vent_rain_cap(0.5, err), SIDEWAYS},
        {"180 degree return", vent_end_return(1, err), DOWNWARD},
    };
    int north = vent_network_find_node(net, "store room", err);
    int south = vent_network_find_node(net, "workshop", err);
    double open = 0;
    printf("%-24s %6s %6s %7s  %10s %10s %8s  %-16s  %s\n", "on top", "cfm", "L/s", "change",
           "store room", "workshop", "exit", "the air goes", "verdict");
    printf("%-24s %6s %6s %7s  %10s %10s %8s\n", "", "", "", "cfm", "in w.c.", "in w.c.", "m/s");
    for (size_t i = 0; i < sizeof tops / sizeof *tops; ++i) {
        vent_network_set_termination(net, tops[i].termination, err);
        vent_solution *s = vent_network_solve(net, NULL, err);
        double flow = vent_solution_discharge_flow(s);
        open = i == 0 ? flow : open;
        printf("%-24s %6.1f %6.1f %7.1f  %10.3f %10.3f %8.1f  %-16s  %s\n", tops[i].name,
               flow / VENT_CFM, flow / VENT_LITRE_S, (flow - open) / VENT_CFM,
               -vent_solution_pressure(s, north) / VENT_INWC,
               -vent_solution_pressure(s, south) / VENT_INWC, vent_solution_exit_velocity(s),
               where_the_air_goes(tops[i].termination), tops[i].verdict);
        vent_solution_free(s);
    }
    vent_network_set_termination(net, vent_open_end(), err);
}

static void print_ledger(const vent_network *net, vent_error *err)
{
    vent_solution *s = vent_network_solve(net, NULL, err);
    printf("\n%-16s %-32s %7s %9s %7s %9s\n", "where", "what", "K", "Pa", "share", "cost cfm");
    for (size_t i = 0; i < vent_solution_ledger_size(s); ++i) {
        vent_ledger_line line;
        vent_solution_ledger_line(s, i, &line);
        char k[16] = "";
        if (!isnan(line.k))
            snprintf(k, sizeof k, "%.3f", line.k);
        printf("%-16s %-32s %7s %9.2f %6.1f%% %9.2f\n", line.where, line.what, k, line.loss,
               100 * line.share, line.flow_cost / VENT_CFM);
    }
    for (size_t i = 0; i < vent_solution_warning_count(s); ++i) {
        vent_warning warning;
        vent_solution_warning(s, i, &warning);
        printf("note: %s\n", warning.message);
    }
    vent_solution_free(s);
}

static void print_cautions(void)
{
    puts(
        "\nCautions. These results do not replace licensed practice; local codes rule. Check that\n"
        "combustion appliances do not back-draft. Electrical work is for those licensed to do it.\n"
        "Know what is under the slab before drilling: tension cables, heating, cables, gas, "
        "water,\n"
        "asbestos. Whether radon has come down is proven only by a radon test.");
}

int main(void)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = read_stack(&err);
    puts("An invented building and an invented fan: what does the thing on top of the stack "
         "cost?\n");
    print_tops(net, &err);
    print_ledger(net, &err);
    print_cautions();
    vent_network_free(net);
    if (err.status != VENT_OK)
        fprintf(stderr, "%s\n", err.message);
    return err.status != VENT_OK;
}
