/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file diagnose.h
 *  @brief Which fault explains the readings, how surely, and what to read next.
 *
 * "The stack was designed for 41 cfm at 1.1 in. w.c. in the riser; today the riser shows 0.6 and the
 * pit 0.5. What happened?"
 *
 *     vent_diagnosis *job = vent_diagnosis_new(design, &err);
 *     vent_diagnosis_inputs(job, n, inputs, &err);
 *     vent_diagnosis_reading(job, riser, vent_reading_stated(-0.6 * VENT_INWC, 2), &err);
 *     vent_diagnosis_reading(job, pit, vent_reading_stated(-0.5 * VENT_INWC, 2), &err);
 *     vent_diagnosed *found = vent_diagnosis_solve(job, &err);
 *     vent_diagnosed_report(found, sizeof text, text);
 *
 * A **hypothesis** is the design with one fault in it, of a size within stated bounds: a leak of so many
 * square metres, an end of which so much is free, a fan that makes so much of its pressure. All faults are
 * parts and parameters of the same network. Its **evidence** is how probable it made the readings
 * beforehand: averaged over the sizes the fault may have (every ratio of sizes alike) and over what is
 * uncertain about the design. So a fault that could explain anything counts for less than one that had
 * to give just these readings, and a hypothesis without a size stands fairly beside those with one.
 * With the odds one gives each fault beforehand, evidence becomes **probability**.
 *
 * Readings often cannot tell: seen from below the fan, a blocked end, a weak fan and water in the pipe
 * above it are the same thing. Such hypotheses are one **group**. The answer claims to know the fault
 * only where its odds against all others together, and its evidence against the next one's, are at least
 * VENT_DIAGNOSED_ODDS, and where it fits at all; and it names the reading that would part the first two best.
 *
 * Where no single fault fits and there are readings enough, two at once are tried.
 *
 * Signs are those of the network: vacuum is negative, flow towards the discharge is positive.
 *
 * A stack that stands still, or whose end has iced over, protects nobody: whatever the ranking says, a stopped
 * fan is to be put right first. Ice falls; fans and roofs are for those licensed to work on them. Air that
 * works are right says nothing of radon: test. */
#ifndef VENTSTACK_DIAGNOSE_H
#define VENTSTACK_DIAGNOSE_H

#include <ventstack/fit.h>

VENT_BEGIN_DECLS

/** @brief Kinds of fault. The sizes are those vent_fault_range() tells. */
enum {
    VENT_FAULT_NONE = 0,        /**< nothing is wrong */
    VENT_FAULT_SLAB_LEAK = 1,   /**< room air enters at a suction point, through m2 of opening. Soil
                                     looser than designed gives the same readings */
    VENT_FAULT_TERMINATION = 2, /**< the end is blocked or iced: share of it that is free */
    VENT_FAULT_WATER = 3, /**< water stands in a low point or pit: share of the pipe's area left */
    VENT_FAULT_JOINT_LEAK = 4,  /**< room air enters at a joint, a junction of the network; m2 */
    VENT_FAULT_FAN_WEAK = 5,    /**< the fan makes a share of its pressure */
    VENT_FAULT_FAN_WRONG = 6,   /**< another fan: its number, as vent_diagnosis_fan() told */
    VENT_FAULT_FAN_STOPPED = 7, /**< the fan stands still: coefficient of its wheel */
    VENT_FAULT_SOIL_TIGHT = 8,  /**< soil tighter or wetter: share of the flow at equal vacuum */
    VENT_FAULT_PLACE = 9,       /**< a reading was taken at another place: its number among those of
                                     vent_diagnosed_place() */
    VENT_FAULT_SIGN = 10,       /**< a reading has the wrong sign, or a VENT_SIGN_... has */
    VENT_FAULT_END = 11         /**< one past the last */
};

/** @brief Places of a VENT_FAULT_SIGN that is one of many readings. */
enum {
    VENT_SIGN_ALL_PRESSURES =
        -1, /**< the tubes of the gauge are swapped, or vacuum was written as positive */
    VENT_SIGN_ALL_READINGS = -2 /**< pressures and flows: the other convention throughout */
};

/** @brief A fault that may be: what, where, how likely, how large; frozen layout. */
typedef struct vent_fault {
    int32_t kind;     /**< VENT_FAULT_... */
    int32_t place;    /**< node, run or reading, as the kind has it; 0 for VENT_FAULT_NONE */
    int32_t item;     /**< of a fan, its number in the run; of water, the item it stands behind, -1
                           for the start of the run: the pit; else 0 */
    int32_t reserved; /**< 0 */
    double odds;      /**< against "nothing is wrong", before any reading; above 0 */
    double low;       /**< least size it may have; 0 for kinds without bounds */
    double high;      /**< greatest size; every ratio of sizes between is alike likely */
} vent_fault;

/** @brief Names a kind of fault.
 *
 * @param[in] kind VENT_FAULT_...
 * @return a constant string; "unknown" where there is none.
 * @since 0.1 */
VENT_API const char *vent_fault_name(int kind);

/** @brief Tells what the size of a kind of fault is, and the usual bounds.
 *
 * @param[in] kind VENT_FAULT_...
 * @param[out] range not NULL: name, unit, admissible bounds, and as source_low and source_high the usual ones.
 * @return true; false (range untouched) where the kind has no size, or one of a list.
 * @par Source common practice, no source.
 * @since 0.1 */
VENT_API bool vent_fault_range(int kind, vent_parameter_range *range);

/** @brief A design, readings of what was built, and the faults that may be; opaque. */
typedef struct vent_diagnosis vent_diagnosis;

/** @brief The answer of a diagnosis; opaque, independent of the diagnosis it came from. */
typedef struct vent_diagnosed vent_diagnosed;

/** @brief Begins a diagnosis.
 *
 * @param[in] design a complete network as it should be, not NULL; a copy is kept.
 * @param[in,out] err failure record or NULL.
 * @return the diagnosis, to be freed with vent_diagnosis_free(); NULL on failure.
 * @par Errors as vent_workspace_new().
 * @since 0.1 */
VENT_API vent_diagnosis *vent_diagnosis_new(const vent_network *design, vent_error *err);

/** @brief Frees a diagnosis.
 *
 * @param[in] diagnosis NULL allowed.
 * @since 0.1 */
VENT_API void vent_diagnosis_free(vent_diagnosis *diagnosis);

/** @brief Says what is uncertain about the design when nothing is wrong with it.
 *
 * What vent_network_uncertainties() lists, and what only the designer knows: the soil's spread, the
 * fan's, temperatures. Without any, the design is taken as exact, and every small misfit as a fault.
 *
 * @param[in,out] diagnosis not NULL; unchanged on failure.
 * @param[in] n [-] how many inputs; 0 allowed.
 * @param[in] inputs that many, added to those there are; NULL allowed if n is 0. A rectangular one is
 *            taken as normal.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT for an uncertainty not above 0, an unknown shape, a log-normal input
 *   whose value is not above 0, more than 1000 inputs; VENT_E_DUPLICATE; VENT_E_NOT_FOUND for a
 *   parameter the design has not; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_diagnosis_inputs(vent_diagnosis *diagnosis, size_t n, const vent_input *inputs,
                                    vent_error *err);

/** @brief Adds a reading.
 *
 * @param[in,out] diagnosis not NULL; unchanged on failure.
 * @param[in] observable what was read: an address in the design.
 * @param[in] reading value [unit: vent_observable_unit()] and standard uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return the reading's number, from 0; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND where the design has no such place; VENT_E_ARGUMENT for an uncertainty
 *   not above 0, a value that is not finite, more than 100 readings; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_diagnosis_reading(vent_diagnosis *diagnosis, vent_observable observable,
                                    vent_reading reading, vent_error *err);

/** @brief Adds the vacuum at a test hole, of which one knows what share of the pit's arrives there.
 *
 * It counts as a reading of the pit: the hole's over its share, with the uncertainties of both. The share is
 * that of a communication test: vent_field_vacuum() over the field's vacuum.
 *
 * @param[in,out] diagnosis not NULL; unchanged on failure.
 * @param[in] node the suction point that the hole looks at.
 * @param[in] share [-] of the pit's vacuum; 1e-4 <= share.value <= 1, uncertainty 0 or more.
 * @param[in] pressure [Pa] in the hole against the room, negative for a vacuum, and its standard
 *            uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return the reading's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; as vent_diagnosis_reading().
 * @par Source a field falls alike at any vacuum: Darcy's law; flow that is not laminar near the pit
 *   bends it.
 * @since 0.1 */
VENT_API int vent_diagnosis_test_hole(vent_diagnosis *diagnosis, int node, vent_reading share,
                                      vent_reading pressure, vent_error *err);

/** @brief Names another fan that may stand in place of the design's.
 *
 * @param[in,out] diagnosis not NULL; unchanged on failure.
 * @param[in] fan not NULL; a copy is kept.
 * @param[in,out] err failure record or NULL.
 * @return its number, from 0; -1 on failure.
 * @par Errors VENT_E_ARGUMENT (also: more than 100); VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_diagnosis_fan(vent_diagnosis *diagnosis, const vent_fan *fan, vent_error *err);

/** @brief Lists the faults one usually asks about, from the design, the readings and the fans so far.
 *
 * Nothing wrong; leaks at every suction point and junction; every end; water at the start of every run that
 * leaves a suction point and behind the first pipe of every run; every fan, weak, stopped or another; every
 * soil; every reading at another place; all pressures with the wrong sign, all readings where some are no pressures, and each alone. Every kind has the odds of nothing wrong,
 * shared among its places; a wrong place has a fifth of that, a sign a twentieth: no survey of
 * faults could be read, and who calls somebody has a reason.
 *
 * @param[in] diagnosis not NULL.
 * @param[in] room [-] how many fit into faults; 0 allowed.
 * @param[out] faults the first `room` of them; NULL allowed if room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure.
 * @par Errors VENT_E_ARGUMENT.
 * @par Source common practice, no source.
 * @since 0.1 */
VENT_API size_t vent_diagnosis_usual(const vent_diagnosis *diagnosis, size_t room,
                                     vent_fault *faults, vent_error *err);

/** @brief Adds a fault to those that may be. Where none is added, those of vent_diagnosis_usual() are.
 *
 * @param[in,out] diagnosis not NULL; unchanged on failure.
 * @param[in] fault kind, place, odds, bounds of its size within vent_fault_range().
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT for an unknown kind, odds not above 0, bounds outside those of the kind
 *   or not one above the other, more than 500 faults; VENT_E_NOT_FOUND for a place that is none of
 *   its kind; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_diagnosis_fault(vent_diagnosis *diagnosis, vent_fault fault, vent_error *err);

/** @brief The same thing backwards: the readings a fault would give, for exercises.
 *
 * The design with that fault, its uncertain inputs drawn at random, read with instruments whose errors
 * are normal. The same seed gives the same readings.
 *
 * @param[in] diagnosis not NULL; its readings play no part.
 * @param[in] fault kind and place; no kind of a reading.
 * @param[in] size [unit: vent_fault_range()] of the fault; any for a kind without size.
 * @param[in] seed any.
 * @param[in] n [-] how many readings; 0 allowed.
 * @param[in] observables addresses in the design; NULL allowed if n is 0.
 * @param[in] uncertainty [unit of each] standard uncertainties of the instruments, 0 or more; NULL
 *            allowed if n is 0.
 * @param[out] readings n readings; NaN on failure; NULL allowed if n is 0.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; as vent_network_solve().
 * @since 0.1 */
VENT_API bool vent_diagnosis_exercise(const vent_diagnosis *diagnosis, vent_fault fault,
                                      double size, uint64_t seed, size_t n,
                                      const vent_observable *observables, const double *uncertainty,
                                      vent_reading *readings, vent_error *err);

/** @brief Ranks the faults by how probable they are.
 *
 * At each size of a fault the readings are, to first order about the most probable inputs, normal; sizes
 * are averaged by adaptive quadrature, not by first order, as a fault may be small or close the pipe. Two
 * faults at once are tried where there are 3 readings or more and the best single fault leaves a
 * chi-square that chance gives in less than one case of twenty: each of the three best singles with every
 * other, at odds of a fiftieth of the product of theirs.
 *
 * @param[in] diagnosis with a reading, not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the answer, to be freed with vent_diagnosed_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for no reading; as vent_network_solve() where the design itself has no
 *   solution; VENT_E_MEMORY.
 * @par Source Bayes factors and their scale: Kass & Raftery (1995), Journal of the American Statistical
 *   Association 90, 773-795; Laplace's approximation: Tierney & Kadane (1986), the same 81, 82-86;
 *   memory.
 * @par Accuracy evidence within 15 % of a plain average over random inputs and sizes; half a logarithm where
 *   inputs must be 4 of their uncertainties off. Of 500 random stacks with one fault each, it claimed to tell
 *   the fault in about half, and was right in 99 of 100 of these; docs/calibration.
 * @since 0.1 */
VENT_API vent_diagnosed *vent_diagnosis_solve(const vent_diagnosis *diagnosis, vent_error *err);

/** @brief Frees an answer.
 *
 * @param[in] diagnosed NULL allowed.
 * @since 0.1 */
VENT_API void vent_diagnosed_free(vent_diagnosed *diagnosed);

/** @brief One hypothesis and what the readings say of it; frozen layout. */
typedef struct vent_finding {
    int32_t faults;      /**< how many at once: 1 or 2 */
    int32_t group;       /**< number of the first finding that fits the readings in the same way */
    vent_fault fault[2]; /**< they; the second of kind NONE where there is one */
    double size[2];     /**< most probable half-way value (median) of each size; NaN without size */
    double low[2];      /**< 95 % interval; one-sided at a bound: vent_diagnosed_at_bound() */
    double high[2];     /**< 95 % interval; likewise */
    double probability; /**< of all findings together 1 */
    double evidence;    /**< natural logarithm of how probable it made the readings beforehand */
    double chi_square;  /**< of its best fit: squares of the readings' residuals, and what the
                              uncertain inputs had to give */
} vent_finding;

/** @brief Counts the findings.
 *
 * @param[in] diagnosed not NULL.
 * @return how many; 0 if diagnosed is NULL.
 * @since 0.1 */
VENT_API size_t vent_diagnosed_count(const vent_diagnosed *diagnosed);

/** @brief Reads a finding.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] rank [-] 0 <= rank < vent_diagnosed_count(), the most probable first.
 * @param[out] finding not NULL.
 * @return true; false (finding untouched) where there is no such finding.
 * @since 0.1 */
VENT_API bool vent_diagnosed_finding(const vent_diagnosed *diagnosed, size_t rank,
                                     vent_finding *finding);

/** @brief Tells whether the readings push a size to a bound of those that were asked about.
 *
 * Its interval is one-sided then: the size is at least `low`, or at most `high`, and how far beyond the bound it may
 * be, the readings were not asked. Give the fault wider bounds, or look for another one.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] rank of the finding.
 * @param[in] fault [-] number of the fault in it: 0 or 1.
 * @return 1 at the greatest size, -1 at the least, 0 between them, without a size, and where there is no such finding
 *   or fault.
 * @since 0.1 */
VENT_API int vent_diagnosed_at_bound(const vent_diagnosed *diagnosed, size_t rank, int fault);

/** @brief The odds at which an answer claims to tell: "strong" on the scales of Jeffreys, and of Kass and
 *  Raftery. */
#define VENT_DIAGNOSED_ODDS 10.0

/** @brief What an answer claims. */
enum {
    VENT_DIAGNOSED_OPEN =
        0, /**< nothing: the readings leave several faults that differ, or none that fits */
    VENT_DIAGNOSED_GROUP = 1, /**< the first group, not which of it */
    VENT_DIAGNOSED_TOLD = 2   /**< the first finding */
};

/** @brief Tells what the readings can tell.
 *
 * @param[in] diagnosed not NULL.
 * @return VENT_DIAGNOSED_...; OPEN if diagnosed is NULL.
 * @since 0.1 */
VENT_API int vent_diagnosed_claim(const vent_diagnosed *diagnosed);

/** @brief Bits of vent_diagnosed_flags(). */
enum {
    VENT_DIAGNOSED_SIGN =
        1, /**< a reading has the other sign than the design: look at the convention */
    VENT_DIAGNOSED_CONSTANT = 2, /**< one value at three places or more that should differ */
    VENT_DIAGNOSED_CONTRARY = 4, /**< two readings of one place exclude each other */
    VENT_DIAGNOSED_EXACT = 8,    /**< the design was given no uncertainty */
    VENT_DIAGNOSED_UNEXPLAINED =
        16,                 /**< even the first finding fits so badly that chance gives it in
                                          less than one case of a hundred */
    VENT_DIAGNOSED_FEW = 32 /**< one reading: faults of any size that give it are all alike */
};

/** @brief What to know of the readings and the ranking.
 *
 * @param[in] diagnosed not NULL.
 * @return VENT_DIAGNOSED_... bits; 0 for none.
 * @since 0.1 */
VENT_API uint32_t vent_diagnosed_flags(const vent_diagnosed *diagnosed);

/** @brief How one reading fits a finding.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] rank of the finding.
 * @param[in] reading its number.
 * @param[out] residual not NULL; what the finding gives at its most probable size and inputs.
 * @return true; false (residual untouched) where there is no such finding or reading.
 * @since 0.1 */
VENT_API bool vent_diagnosed_residual(const vent_diagnosed *diagnosed, size_t rank, size_t reading,
                                      vent_residual *residual);

/** @brief A place where a reading may have been taken instead.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] reading its number.
 * @param[in] number [-] size of a fault VENT_FAULT_PLACE.
 * @return the address in the design; kind VENT_OBSERVABLE_NONE where there is none.
 * @since 0.1 */
VENT_API vent_observable vent_diagnosed_place(const vent_diagnosed *diagnosed, size_t reading,
                                              int number);

/** @brief Lists readings that could be taken: pressure at every suction point, behind every pipe, before and
 *  behind every fan, and the flow of every run.
 *
 * With usual uncertainties about what the first finding gives: pressures 1 Pa and 1 %, flows 0.5 L/s and
 * 5 %.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] room [-] how many fit into candidates; 0 allowed.
 * @param[out] candidates the first `room` of them; NULL allowed if room is 0.
 * @return how many there are; 0 if diagnosed is NULL or memory is refused.
 * @par Source common practice, no source.
 * @since 0.1 */
VENT_API size_t vent_diagnosed_candidates(const vent_diagnosed *diagnosed, size_t room,
                                          vent_candidate *candidates);

/** @brief Which reading would part two findings best.
 *
 * The distance of what either expects, over the uncertainty of both expectations and of the
 * instrument together: above 3 one reading will do, below 1 it will not.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] a rank of one finding.
 * @param[in] b rank of another.
 * @param[in] n [-] how many candidates.
 * @param[in] candidates observables, no parameters; NULL allowed if n is 0.
 * @param[out] expected [unit of each] what a and b expect of each: 2 n readings, those of a first; NULL
 *             allowed.
 * @param[out] distance [-] of each; NaN on failure; NULL allowed.
 * @param[in,out] err failure record or NULL.
 * @return the best one, the first of equals; -1 on failure or for none.
 * @par Errors VENT_E_NOT_FOUND for a finding or an address there is not; VENT_E_ARGUMENT for an uncertainty
 *   not above 0, or a parameter; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_diagnosed_next(const vent_diagnosed *diagnosed, size_t a, size_t b, size_t n,
                                 const vent_candidate *candidates, vent_reading *expected,
                                 double *distance, vent_error *err);

/** @brief The design with a finding's faults in it, at their most probable sizes and inputs.
 *
 * Water is a fitting of its own: items behind it count one more. A leak is an opening "possible leak at node N".
 *
 * @param[in] diagnosed not NULL.
 * @param[in] rank of the finding.
 * @param[in,out] err failure record or NULL.
 * @return a network, to be freed with vent_network_free(); NULL on failure.
 * @par Errors VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_network *vent_diagnosed_network(const vent_diagnosed *diagnosed, size_t rank,
                                              vent_error *err);

/** @brief A finding in words: what, where, how large.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] rank of the finding.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 where there is no such finding.
 * @since 0.1 */
VENT_API size_t vent_diagnosed_words(const vent_diagnosed *diagnosed, size_t rank, size_t size,
                                     char *text);

/** @brief The whole answer to read: the claim, the ranking, what to read next, what to know.
 *
 * @param[in] diagnosed not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if diagnosed is NULL.
 * @since 0.1 */
VENT_API size_t vent_diagnosed_report(const vent_diagnosed *diagnosed, size_t size, char *text);

VENT_END_DECLS

#endif
