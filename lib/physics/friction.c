/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/friction.h>

#include "numeric/widest.h"
#include "physics/friction_lanes.h"
#include "physics/laws.h"

#include <math.h>
#include <stdbool.h>

#include <ventstack/units.h>

#define VENT_LANES 1
#include "physics/friction_kernel.h"

static bool is_in_domain(double reynolds, double reynolds_low, double relative_roughness)
{
    return reynolds >= reynolds_low && reynolds <= VENT__REYNOLDS_MOST && relative_roughness >= 0 &&
           relative_roughness <= VENT__ROUGHNESS_MOST;
}

/* ---- one pipe ---- */

void vent__friction(double reynolds, double relative_roughness, double *f, double *e)
{
    v_friction friction = v_friction_all(reynolds, relative_roughness);
    *f = friction.factor;
    *e = friction.slope;
}

/* Colebrook and White's law knows the roughness beside 2.51 / (Re sqrt(f)) alone, so what the Reynolds number
 * does to it tells what the roughness does. Between the regimes it has a share, laminar flow the rest. */
double vent__friction_by_roughness(double reynolds, double relative_roughness, double f, double e)
{
    double share = 1;
    if (reynolds <= VENT__REYNOLDS_LAMINAR)
        return 0;
    if (reynolds < VENT__REYNOLDS_TURBULENT) {
        const double width = VENT__REYNOLDS_TURBULENT - VENT__REYNOLDS_LAMINAR;
        double t = (reynolds - VENT__REYNOLDS_LAMINAR) / width;
        v_colebrook colebrook = v_colebrook_white(reynolds, relative_roughness);
        share = t * t * (3 - 2 * t);
        f = VENT__COLEBROOK_F / (colebrook.y * colebrook.y);
        e = -2 * colebrook.g;
    }
    return -share * e * reynolds * f * sqrt(f) / (3.7 * 2.51);
}

double vent_friction_factor(double reynolds, double relative_roughness)
{
    if (!is_in_domain(reynolds, VENT__REYNOLDS_LEAST, relative_roughness))
        return NAN;
    return v_friction_all(reynolds, relative_roughness).factor;
}

double vent_friction_colebrook(double reynolds, double relative_roughness)
{
    if (!is_in_domain(reynolds, VENT__REYNOLDS_LAMINAR, relative_roughness))
        return NAN;
    return v_colebrook_factor(reynolds, relative_roughness);
}

/* (x^n + y^n)^(1/n) of positive numbers, without their powers' overflow. */
static double norm(double x, double y, double n)
{
    double large = fmax(x, y), ratio = fmin(x, y) / large;
    return large * exp(log1p(pow(ratio, n)) / n);
}

/* f = 8 ((8/Re)^12 + (A + B)^-1.5)^(1/12) with A and B sixteenth powers, hence two norms. */
double vent_friction_churchill(double reynolds, double relative_roughness)
{
    if (!is_in_domain(reynolds, VENT__REYNOLDS_LEAST, relative_roughness))
        return NAN;
    double wall = pow(7 / reynolds, 0.9) + 0.27 * relative_roughness;
    double turbulent = norm(fabs(2.457 * log(wall)), 37530 / reynolds, 16);
    return 8 * norm(8 / reynolds, 1 / turbulent / turbulent, 12);
}

/* Darcy's f Re of a rectangle is 96 / ((1 + a)^2 (1 - 192 a/pi^5 S)) with a the aspect and S the
 * sum of tanh(n pi/(2 a)) / n^5 over odd n. What tanh lacks of 1 dies out within a dozen terms,
 * and the sum of 1/n^5 is 31/32 zeta(5). */
double vent_friction_laminar_rectangle(double aspect)
{
    if (!(aspect >= 0 && aspect <= 1))
        return NAN;
    double decay = exp(-VENT_PI / fmax(aspect, 0.05)); /* below 1e-27 at 0.05 */
    double sum = 1.0045237627951396161, power = decay;
    for (int n = 1; n < 25; n += 2) {
        sum -= 2 * power / (1 + power) / pow(n, 5);
        power *= decay * decay;
    }
    const double pi5 = VENT_PI * VENT_PI * VENT_PI * VENT_PI * VENT_PI;
    return 96 / ((1 + aspect) * (1 + aspect) * (1 - 192 * aspect / pi5 * sum));
}

/* ---- many ---- */

static size_t churchill(size_t n, const double *reynolds, const double *roughness, double *factor)
{
    size_t bad = 0;
    for (size_t i = 0; i < n; i++) {
        factor[i] = vent_friction_churchill(reynolds[i], roughness[i]);
        bad += isnan(factor[i]) != 0;
    }
    return bad;
}

enum { BLOCK = 256 };

/* n elements, `stride` apart, as a contiguous array: themselves or a copy. */
static const double *gather(size_t n, const double *x, ptrdiff_t stride, double copy[BLOCK])
{
    if (stride == 1)
        return x;
    for (size_t i = 0; i < n; i++)
        copy[i] = x[(ptrdiff_t)i * stride];
    return copy;
}

static void scatter(size_t n, const double *from, double *x, ptrdiff_t stride)
{
    for (size_t i = 0; i < n; i++)
        x[(ptrdiff_t)i * stride] = from[i];
}

static size_t in_blocks(vent__friction_law *law, size_t n, const double *reynolds,
                        ptrdiff_t reynolds_stride, const double *roughness,
                        ptrdiff_t roughness_stride, double *factor, ptrdiff_t factor_stride)
{
    double copy_re[BLOCK], copy_k[BLOCK], copy_f[BLOCK];
    size_t bad = 0;
    for (size_t done = 0; done < n; done += BLOCK) {
        size_t count = n - done < BLOCK ? n - done : BLOCK;
        ptrdiff_t first = (ptrdiff_t)done;
        const double *re =
            gather(count, reynolds + first * reynolds_stride, reynolds_stride, copy_re);
        const double *k =
            gather(count, roughness + first * roughness_stride, roughness_stride, copy_k);
        double *f = factor + first * factor_stride;
        bad += law(count, re, k, factor_stride == 1 ? f : copy_f);
        if (factor_stride != 1)
            scatter(count, copy_f, f, factor_stride);
    }
    return bad;
}

void vent__friction_many(size_t n, const double *reynolds, const double *relative_roughness,
                         double *f, double *e)
{
    VENT__WIDEST(vent__friction_slopes)(n, reynolds, relative_roughness, f, e);
}

void vent__power_many(size_t n, const double *x, const double *y, double *power)
{
    if (n == 1) /* not worth a vector */
        *power = v_pow(*x, *y);
    else
        VENT__WIDEST(vent__power)(n, x, y, power);
}

size_t vent_friction_factor_array(size_t n, const double *reynolds, ptrdiff_t reynolds_stride,
                                  const double *relative_roughness, ptrdiff_t roughness_stride,
                                  double *factor, ptrdiff_t factor_stride)
{
    return in_blocks(VENT__WIDEST(vent__friction_factor), n, reynolds, reynolds_stride,
                     relative_roughness, roughness_stride, factor, factor_stride);
}

size_t vent_friction_colebrook_array(size_t n, const double *reynolds, ptrdiff_t reynolds_stride,
                                     const double *relative_roughness, ptrdiff_t roughness_stride,
                                     double *factor, ptrdiff_t factor_stride)
{
    return in_blocks(VENT__WIDEST(vent__friction_colebrook), n, reynolds, reynolds_stride,
                     relative_roughness, roughness_stride, factor, factor_stride);
}

size_t vent_friction_churchill_array(size_t n, const double *reynolds, ptrdiff_t reynolds_stride,
                                     const double *relative_roughness, ptrdiff_t roughness_stride,
                                     double *factor, ptrdiff_t factor_stride)
{
    return in_blocks(churchill, n, reynolds, reynolds_stride, relative_roughness, roughness_stride,
                     factor, factor_stride);
}
