/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file error.h
 *  @brief What went wrong: a status and a caller-owned record that names argument, value and bounds.
 *
 * Errors chain. Pass the same ::vent_error through a row of calls and look at it once: a call that
 * finds a failure already recorded does nothing and returns its null value (0, -1, NULL, NaN or a
 * struct of NaN, as its comment says). A NULL record is allowed; then only the null value tells.
 * To go on after a failure, set its status to VENT_OK.
 * The library keeps no error state of its own and never prints. */
#ifndef VENTSTACK_ERROR_H
#define VENTSTACK_ERROR_H

#include <stdint.h>
#include <ventstack/export.h>

VENT_BEGIN_DECLS

/** Every status, its pinned number and its meaning. Numbers are never reused. */
#define VENT_STATUS_LIST(X)                                                                        \
    X(VENT_OK, 0, "no error")                                                                      \
    X(VENT_E_ARGUMENT, 1, "an argument is outside its bounds or is not a number")                  \
    X(VENT_E_MEMORY, 2, "memory could not be had")                                                 \
    X(VENT_E_NOT_FOUND, 3, "there is nothing of that name or number")                              \
    X(VENT_E_DUPLICATE, 4, "the name is taken")                                                    \
    X(VENT_E_TOPOLOGY, 5, "the runs do not lead from suction points to discharges")                \
    X(VENT_E_NO_OPERATING_POINT, 6, "no flow satisfies fan and system")                            \
    X(VENT_E_NOT_CONVERGED, 7, "the iteration ended before the residual was small")                \
    X(VENT_E_STALE, 8, "the workspace was made for another network or an earlier shape of it")     \
    X(VENT_E_DEPENDENCY, 9, "a library this one uses reported a failure")

/** @brief Status of a call. */
enum {
#define VENT_STATUS_ENUMERATOR(name, number, text) name = number,
    VENT_STATUS_LIST(VENT_STATUS_ENUMERATOR)
#undef VENT_STATUS_ENUMERATOR
        VENT_STATUS_END /**< one past the last status */
};

/** @brief A failure in words and numbers; frozen layout, owned by the caller. */
typedef struct vent_error {
    int32_t status;    /**< VENT_OK or one of VENT_E_... */
    int32_t reserved;  /**< 0 */
    int64_t index;     /**< element, node or run concerned, -1 where none */
    double value;      /**< the offending value, NaN where none */
    double low;        /**< least admissible value, NaN where none */
    double high;       /**< greatest admissible value, NaN where none */
    char function[48]; /**< function that found it */
    char argument[48]; /**< argument concerned, "" where none */
    char message[320]; /**< one readable sentence, complete in itself */
} vent_error;

/** Initial value of every ::vent_error: no failure. To use one again after a failure: `err.status = VENT_OK;`. */
/* clang-format off */
#ifdef __cplusplus
#define VENT_NO_ERROR {}
#else
#define VENT_NO_ERROR {0}
#endif
/* clang-format on */

/** @brief Names a status in words.
 *
 * @param[in] status [-] any integer.
 * @return a constant string; "unknown status" where there is none.
 * @since 0.1 */
VENT_API const char *vent_status_text(int32_t status);

VENT_END_DECLS

#endif
