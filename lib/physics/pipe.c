/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/pipe.h>

#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/friction.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/names.h"
#include "base/source_list.h"
#include "physics/laws.h"

_Static_assert(sizeof(vent_pipe) == 48, "vent_pipe is frozen");

static const double SIDE_LEAST = 1e-4, SIDE_GREATEST = 10; /* m */
static const double ROUGHNESS_GREATEST = 0.1;              /* of the effective diameter */
static const double LENGTH_GREATEST = 1e6;                 /* m */
static const double REYNOLDS_GREATEST = 1e9;
static const double NOMINAL_LEAST = 0.01, NOMINAL_GREATEST = 1; /* m */

static const vent_pipe none = {.width = NAN,
                               .depth = NAN,
                               .roughness = NAN,
                               .bore_uncertainty = NAN,
                               .roughness_uncertainty = NAN};

/* ---- data ---------------------------------------------------------------------------------- */

/* Span: the least and the greatest value published for it, not by one author. */
typedef struct surface {
    const char *material;
    double roughness, low, high; /* m */
    int32_t source;
} surface;

static const surface surfaces[] = {
    {"PVC", 5e-6, 1.5e-6, 4.572e-5, VENT__SOURCE_SWIM_PLASTIC},
    {"drawn tubing", 1.5e-6, 4.572e-7, 2e-6, VENT__SOURCE_MOODY_TUBING},
    {"commercial steel", 4.572e-5, 4.5e-5, 9e-5, VENT__SOURCE_MOODY_STEEL},
    {"aluminium", 4.572e-5, 3.658e-5, 6.096e-5, VENT__SOURCE_HUTCHINSON_ALUMINIUM},
    {"galvanized steel", 9.144e-5, 4.877e-5, 1.524e-4, VENT__SOURCE_GRIGGS_GALVANIZED},
    {"flexible duct", 9.144e-4, 9.144e-5, 9.144e-4, VENT__SOURCE_ABUSHAKRA_FLEXIBLE},
    {"corrugated drain tubing", 3.4e-3, 3.2e-3, 7.5e-3, VENT__SOURCE_EP260_TUBING},
};
enum { SURFACES = sizeof surfaces / sizeof *surfaces };

/* Inches, as the standards have them. A wall may be its tolerance thicker than the least, no
 * thinner. The bore is the published average where one is; else it follows from the rule. For a
 * downspout the outside is the longer side, the bore the shorter. */
typedef struct dimensions {
    double nominal;
    double outside, outside_tolerance;
    double wall, wall_tolerance;
    double bore;
} dimensions;

enum { SIZES = 8 };

typedef struct series {
    const char *name;
    int32_t shape;
    int32_t source;
    const char *material;
    dimensions size[SIZES]; /* nominal 0 past the last */
} series;

/* D1785: the tolerances of 2-1/2 in are from memory. F891: all from memory. D3034: the tolerances and
 * the walls of 6 and 8 in are from memory, the walls' tolerances those of D1785, 12 %. */
static const series catalogue[] = {
    {"PVC 40",
     VENT_PIPE_ROUND,
     VENT__SOURCE_ASTM_D1785,
     "PVC",
     {{1.5, 1.900, 0.006, 0.145, 0.020, 1.592},
      {2, 2.375, 0.006, 0.154, 0.020, 2.049},
      {2.5, 2.875, 0.007, 0.203, 0.024, 2.445},
      {3, 3.500, 0.008, 0.216, 0.026, 3.042},
      {4, 4.500, 0.009, 0.237, 0.028, 3.998},
      {5, 5.563, 0.010, 0.258, 0.031, 5.017},
      {6, 6.625, 0.011, 0.280, 0.034, 6.031},
      {8, 8.625, 0.015, 0.322, 0.039, 7.943}}},
    {"PVC 80",
     VENT_PIPE_ROUND,
     VENT__SOURCE_ASTM_D1785,
     "PVC",
     {{1.5, 1.900, 0.006, 0.200, 0.024, 1.476},
      {2, 2.375, 0.006, 0.218, 0.026, 1.913},
      {2.5, 2.875, 0.007, 0.276, 0.033, 2.289},
      {3, 3.500, 0.008, 0.300, 0.036, 2.864},
      {4, 4.500, 0.009, 0.337, 0.040, 3.786},
      {5, 5.563, 0.010, 0.375, 0.045, 4.767},
      {6, 6.625, 0.011, 0.432, 0.052, 5.709},
      {8, 8.625, 0.015, 0.500, 0.060, 7.565}}},
    {"PVC DWV",
     VENT_PIPE_ROUND,
     VENT__SOURCE_ASTM_D2665,
     "PVC",
     {{1.5, 1.900, 0.006, 0.145, 0.020, 0},
      {2, 2.375, 0.006, 0.154, 0.020, 0},
      {3, 3.500, 0.008, 0.216, 0.026, 0},
      {4, 4.500, 0.009, 0.237, 0.028, 0},
      {6, 6.625, 0.011, 0.280, 0.034, 0},
      {8, 8.625, 0.015, 0.322, 0.039, 0}}},
    {"PVC cellular core",
     VENT_PIPE_ROUND,
     VENT__SOURCE_ASTM_F891,
     "PVC",
     {{1.5, 1.900, 0.006, 0.145, 0.020, 0},
      {2, 2.375, 0.006, 0.154, 0.020, 0},
      {3, 3.500, 0.008, 0.216, 0.026, 0},
      {4, 4.500, 0.009, 0.237, 0.028, 0},
      {6, 6.625, 0.011, 0.280, 0.034, 0},
      {8, 8.625, 0.015, 0.322, 0.039, 0}}},
    {"sewer SDR 35",
     VENT_PIPE_ROUND,
     VENT__SOURCE_ASTM_D3034,
     "PVC",
     {{4, 4.215, 0.009, 0.120, 0.014, 0},
      {6, 6.275, 0.011, 0.180, 0.022, 0},
      {8, 8.400, 0.012, 0.240, 0.029, 0}}},
    {"downspout",
     VENT_PIPE_RECTANGULAR,
     VENT__SOURCE_DOWNSPOUT,
     "aluminium",
     {{3, 3, 0, 0, 0, 2}, {4, 4, 0, 0, 0, 3}}},
};
enum { CATALOGUE = sizeof catalogue / sizeof *catalogue };

static const double AVERAGE_WALL = 1.06; /* of the least; reproduces the averages of D1785 */
static const double DOWNSPOUT_UNCERTAINTY = 0.05; /* of the hydraulic diameter; a guess */

static double standard_uncertainty(double half_width)
{
    return half_width / sqrt(3); /* of a uniform distribution */
}

/* ---- geometry ------------------------------------------------------------------------------ */

static bool is_side(double side)
{
    return side >= SIDE_LEAST && side <= SIDE_GREATEST;
}

static bool is_sound(vent_pipe pipe)
{
    return is_side(pipe.width) && is_side(pipe.depth) &&
           ((pipe.shape == VENT_PIPE_ROUND && pipe.width == pipe.depth) ||
            pipe.shape == VENT_PIPE_RECTANGULAR);
}

double vent_pipe_area(vent_pipe pipe)
{
    if (!is_sound(pipe))
        return NAN;
    double sides = pipe.width * pipe.depth;
    return pipe.shape == VENT_PIPE_ROUND ? VENT_PI / 4 * sides : sides;
}

double vent_pipe_hydraulic_diameter(vent_pipe pipe)
{
    if (!is_sound(pipe))
        return NAN;
    return pipe.shape == VENT_PIPE_ROUND ? pipe.width
                                         : 2 * pipe.width * pipe.depth / (pipe.width + pipe.depth);
}

double vent_pipe_effective_diameter(vent_pipe pipe)
{
    double diameter = vent_pipe_hydraulic_diameter(pipe);
    if (pipe.shape == VENT_PIPE_ROUND || isnan(diameter))
        return diameter;
    double aspect = fmin(pipe.width, pipe.depth) / fmax(pipe.width, pipe.depth);
    return 64 / vent_friction_laminar_rectangle(aspect) * diameter;
}

/* ---- constructors -------------------------------------------------------------------------- */

static bool check_roughness(vent_error *err, const char *function, vent_pipe pipe)
{
    return vent__check_range(err, function, "roughness", "m", pipe.roughness, 0,
                             ROUGHNESS_GREATEST * vent_pipe_effective_diameter(pipe));
}

vent_pipe vent_pipe_round(double bore, double roughness, vent_error *err)
{
    vent_pipe pipe = {
        .shape = VENT_PIPE_ROUND, .width = bore, .depth = bore, .roughness = roughness};
    if (vent__failed(err) || !VENT__RANGE(bore, "m", SIDE_LEAST, SIDE_GREATEST) ||
        !check_roughness(err, __func__, pipe))
        return none;
    return pipe;
}

vent_pipe vent_pipe_rectangular(double width, double depth, double roughness, vent_error *err)
{
    vent_pipe pipe = {
        .shape = VENT_PIPE_RECTANGULAR, .width = width, .depth = depth, .roughness = roughness};
    if (vent__failed(err) || !VENT__RANGE(width, "m", SIDE_LEAST, SIDE_GREATEST) ||
        !VENT__RANGE(depth, "m", SIDE_LEAST, SIDE_GREATEST) ||
        !check_roughness(err, __func__, pipe))
        return none;
    return pipe;
}

/* ---- loss ---------------------------------------------------------------------------------- */

/* Darcy-Weisbach with f Re kept together, which is constant in laminar flow: so the loss is a straight
 * line through rest, and the Reynolds number may be held above 0 without changing it. */
double vent_pipe_loss(vent_pipe pipe, double length, double mass_flow, double density,
                      double viscosity)
{
    static const double creeping = 1e-3;
    if (!(density > 0 && viscosity > 0 && isfinite(viscosity)))
        return NAN;
    double diameter = vent_pipe_effective_diameter(pipe);
    double velocity = mass_flow / (density * vent_pipe_area(pipe));
    double reynolds = density * fabs(velocity) * diameter / viscosity;
    if (!(pipe.roughness >= 0 && pipe.roughness <= ROUGHNESS_GREATEST * diameter && length >= 0 &&
          length <= LENGTH_GREATEST && reynolds <= REYNOLDS_GREATEST))
        return NAN;
    double f, e;
    reynolds = fmax(reynolds, creeping);
    vent__friction(reynolds, pipe.roughness / diameter, &f, &e);
    double length_ratio = length / vent_pipe_hydraulic_diameter(pipe);
    return f * reynolds * length_ratio * viscosity * velocity / (2 * diameter);
}

/* ---- finding ------------------------------------------------------------------------------- */

typedef struct sentence {
    char text[200];
    size_t length;
} sentence;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
add(sentence *to, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    int more = vsnprintf(to->text + to->length, sizeof to->text - to->length, format, list);
    va_end(list);
    if (more > 0)
        to->length += (size_t)more;
    if (to->length >= sizeof to->text)
        to->length = sizeof to->text - 1;
}

static int size_count(const series *of)
{
    int n = 0;
    while (n < SIZES && of->size[n].nominal > 0)
        ++n;
    return n;
}

static vent_pipe member(const series *of, const dimensions *size)
{
    double low, high;
    vent_pipe pipe = {.shape = of->shape, .source = of->source};
    pipe.roughness = vent_roughness_find(of->material, &low, &high, NULL, NULL);
    pipe.roughness_uncertainty = standard_uncertainty(0.5 * (high - low));
    double average = size->outside - 2 * AVERAGE_WALL * size->wall;
    double bore = size->bore > 0 ? size->bore : average;
    pipe.depth = bore * VENT_INCH;
    if (of->shape == VENT_PIPE_ROUND) {
        pipe.width = pipe.depth;
        pipe.bore_uncertainty =
            standard_uncertainty(size->outside_tolerance + size->wall_tolerance) * VENT_INCH;
    } else {
        pipe.width = size->outside * VENT_INCH;
        pipe.bore_uncertainty = DOWNSPOUT_UNCERTAINTY * vent_pipe_hydraulic_diameter(pipe);
    }
    return pipe;
}

static void list_sizes(sentence *to, const series *of)
{
    for (int i = 0; i < size_count(of); ++i)
        add(to, "%s%g", i ? ", " : "", of->size[i].nominal);
    add(to, " in");
}

static vent_pipe no_series(vent_error *err, const char *function, const char *name)
{
    int least = INT_MAX;
    sentence names = {.length = 0}, nearest = {.length = 0};
    for (int i = 0; i < CATALOGUE; ++i) {
        add(&names, "%s\"%s\"", i ? ", " : "", catalogue[i].name);
        int unlike = vent__unlikeness(name, catalogue[i].name);
        if (unlike >= least)
            continue;
        least = unlike;
        nearest = (sentence){.length = 0};
        add(&nearest, "; nearest is \"%s\" (", catalogue[i].name);
        list_sizes(&nearest, &catalogue[i]);
        add(&nearest, ")");
    }
    vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
               "%s: no pipe is named \"%.40s\"%s; there are %s", function, name, nearest.text,
               names.text);
    return none;
}

static vent_pipe no_size(vent_error *err, const char *function, const series *of, double size)
{
    sentence sizes = {.length = 0};
    list_sizes(&sizes, of);
    vent__fail(err, VENT_E_NOT_FOUND, function, "nominal_size", -1, size,
               of->size[0].nominal * VENT_INCH, of->size[size_count(of) - 1].nominal * VENT_INCH,
               "%s: nominal_size is %.6g m (%.6g in); \"%s\" comes in %s", function, size,
               size / VENT_INCH, of->name, sizes.text);
    return none;
}

static bool check_nominal(vent_error *err, const char *function, double size)
{
    if (size >= NOMINAL_LEAST && size <= NOMINAL_GREATEST)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "nominal_size", -1, size, NOMINAL_LEAST,
                      NOMINAL_GREATEST,
                      "%s: nominal_size is %.10g m; it must lie between %g and %g%s", function,
                      size, NOMINAL_LEAST, NOMINAL_GREATEST,
                      isfinite(size) ? " (a size in inches is to be multiplied by 0.0254)" : "");
}

vent_pipe vent_pipe_find(const char *name, double nominal_size, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(name) || !check_nominal(err, __func__, nominal_size))
        return none;
    const series *of = catalogue;
    while (of < catalogue + CATALOGUE && strcmp(name, of->name) != 0)
        ++of;
    if (of == catalogue + CATALOGUE)
        return no_series(err, __func__, name);
    for (int i = 0; i < size_count(of); ++i) {
        double size = of->size[i].nominal * VENT_INCH;
        if (fabs(nominal_size - size) <= 1e-6 * size)
            return member(of, &of->size[i]);
    }
    return no_size(err, __func__, of, nominal_size);
}

int32_t vent__pipe_roughness_source(const vent_pipe *pipe)
{
    for (int i = 0; i < CATALOGUE; ++i) {
        int32_t source;
        double roughness = vent_roughness_find(catalogue[i].material, NULL, NULL, &source, NULL);
        if (pipe->source == catalogue[i].source && pipe->roughness == roughness)
            return source;
    }
    return VENT__SOURCE_NONE;
}

int vent_pipe_count(void)
{
    int count = 0;
    for (int i = 0; i < CATALOGUE; ++i)
        count += size_count(&catalogue[i]);
    return count;
}

vent_pipe vent_pipe_entry(int entry, const char **name, double *nominal_size)
{
    const series *of = catalogue;
    for (; entry >= 0 && of < catalogue + CATALOGUE && entry >= size_count(of); ++of)
        entry -= size_count(of);
    bool found = entry >= 0 && of < catalogue + CATALOGUE;
    if (name)
        *name = found ? of->name : NULL;
    if (nominal_size)
        *nominal_size = found ? of->size[entry].nominal * VENT_INCH : NAN;
    return found ? member(of, &of->size[entry]) : none;
}

int vent_roughness_count(void)
{
    return SURFACES;
}

double vent_roughness_entry(int entry, const char **material, double *low, double *high,
                            int32_t *source)
{
    const surface nothing = {NULL, NAN, NAN, NAN, VENT__SOURCE_NONE};
    const surface *of = entry >= 0 && entry < SURFACES ? &surfaces[entry] : &nothing;
    if (material)
        *material = of->material;
    if (low)
        *low = of->low;
    if (high)
        *high = of->high;
    if (source)
        *source = of->source;
    return of->roughness;
}

static void no_material(vent_error *err, const char *function, const char *material)
{
    int least = INT_MAX;
    sentence names = {.length = 0}, nearest = {.length = 0};
    for (int i = 0; i < SURFACES; ++i) {
        const char *other = surfaces[i].material;
        add(&names, "%s\"%s\"", i ? ", " : "", other);
        int unlike = vent__unlikeness(material, other);
        if (unlike >= least)
            continue;
        least = unlike;
        nearest = (sentence){.length = 0};
        add(&nearest, "; nearest is \"%s\"", other);
    }
    vent__fail(err, VENT_E_NOT_FOUND, function, "material", -1, NAN, NAN, NAN,
               "%s: no material is named \"%.40s\"%s; there are %s", function, material,
               nearest.text, names.text);
}

double vent_roughness_find(const char *material, double *low, double *high, int32_t *source,
                           vent_error *err)
{
    int entry = -1;
    if (!vent__failed(err) && VENT__POINTER(material)) {
        entry = 0;
        while (entry < SURFACES && strcmp(material, surfaces[entry].material) != 0)
            ++entry;
        if (entry == SURFACES)
            no_material(err, __func__, material);
    }
    return vent_roughness_entry(entry, NULL, low, high, source);
}
