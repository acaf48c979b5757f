/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file source.h
 *  @brief Where a number comes from: author, year, place, and how it was obtained. */
#ifndef VENTSTACK_SOURCE_H
#define VENTSTACK_SOURCE_H

#include <stdbool.h>
#include <stdint.h>
#include <ventstack/export.h>

VENT_BEGIN_DECLS

/** @brief How a value was obtained. */
enum {
    VENT_HOW_PRINTED = 1, /**< read in the printed source itself */
    VENT_HOW_REPRINT = 2, /**< read in a reprint, a reference program or a scan of another author */
    VENT_HOW_COMPUTED = 3, /**< computed independently, or exact by theory */
    VENT_HOW_MEMORY = 4,   /**< from memory: not found again, treat as unverified */
    VENT_HOW_PRACTICE = 5  /**< common practice, no source */
};

/** @brief One citation; the strings are constants of the library. */
typedef struct vent_source {
    const char *author; /**< author or body */
    const char *title;  /**< work */
    const char *place;  /**< table, diagram, equation or section */
    int32_t year;       /**< year of the edition, 0 where none */
    int32_t how;        /**< VENT_HOW_... */
} vent_source;

/** @brief A loss coefficient with its honesty: value, spread, source; frozen layout. */
typedef struct vent_coefficient {
    double value;       /**< [-] K on the stated bore's velocity pressure */
    double uncertainty; /**< [-] standard uncertainty of value */
    int32_t source;     /**< citation number for vent_source_find(), 0 where the caller stated it */
    uint32_t flags;     /**< VENT_COEFFICIENT_... bits, 0 inside every stated range */
} vent_coefficient;

/** @brief Bits of vent_coefficient.flags. */
enum {
    VENT_COEFFICIENT_GEOMETRY_OUTSIDE = 1, /**< a geometric parameter left the source's range */
    VENT_COEFFICIENT_REYNOLDS_OUTSIDE = 2  /**< the Reynolds number left the source's range */
};

/** @brief Counts the citations the library knows; they are numbered 1 to this.
 *
 * @return the count.
 * @since 0.1 */
VENT_API int vent_source_count(void);

/** @brief Looks a citation up.
 *
 * Number 0 stands for what the caller stated, and has no citation.
 *
 * @param[in]  number [-] 1 <= number <= vent_source_count().
 * @param[out] source the citation, constant strings of the library; not NULL.
 * @return true; false (source untouched) where there is no such number.
 * @since 0.1 */
VENT_API bool vent_source_find(int number, vent_source *source);

VENT_END_DECLS

#endif
