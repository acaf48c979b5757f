/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file provenance.h
 *  @brief Which sources a solution rests on, how much hangs on each, and where a range was left. */
#ifndef VENTSTACK_PROVENANCE_H
#define VENTSTACK_PROVENANCE_H

#include <ventstack/solution.h>

VENT_BEGIN_DECLS

/** @brief What rests on one source; frozen layout. */
typedef struct vent_source_use {
    int32_t source;        /**< citation number; 0: what the caller stated */
    uint32_t flags;        /**< VENT_COEFFICIENT_... bits of all these lines together */
    int32_t lines;         /**< how many lines of the ledger rest on it */
    int32_t reserved;      /**< 0 */
    double greatest_loss;  /**< Pa, the greatest loss or drive of one of these lines, by size */
    double greatest_share; /**< that over the fans' mean pressure; NaN without a fan */
} vent_source_use;

/** @brief The sources one line of the ledger rests on.
 *
 * A fitting, transition, termination or junction rests on its coefficient's source, and where an
 * open pipe end is part of it, on that of the end. A pipe rests on the source of its dimensions, on
 * that of its roughness, on the law of friction and on the viscosity of air; a column of gas on the
 * density of air, which every velocity pressure rests on too without its being listed there. Number
 * 0 stands for what the caller stated: soil, fans, wind, a pipe or a coefficient of one's own.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] 0 <= index < vent_solution_ledger_size().
 * @param[in] room [-] how many fit into sources; 0 <= room.
 * @param[out] sources the first `room` citation numbers; NULL allowed where room is 0.
 * @return how many there are; 0 where there is no such line.
 * @since 0.1 */
VENT_API int vent_solution_line_sources(const vent_solution *solution, size_t index, int room,
                                        int32_t *sources);

/** @brief Counts the sources a solution rests on.
 *
 * @param[in] solution not NULL.
 * @return how many, what the caller stated counted as one; 0 if solution is NULL.
 * @since 0.1 */
VENT_API size_t vent_solution_source_count(const vent_solution *solution);

/** @brief Tells what rests on one of the sources of a solution.
 *
 * In order of the greatest single loss that rests on it, the greatest first.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] 0 <= index < vent_solution_source_count().
 * @param[out] use not NULL.
 * @return true; false (use untouched) where there is no such source.
 * @since 0.1 */
VENT_API bool vent_solution_source_use(const vent_solution *solution, size_t index,
                                       vent_source_use *use);

VENT_END_DECLS

#endif
