/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a table of published values, row by row, and fails the running test on anything odd: a
 * missing file or column, a row of another width, a number that is none, a table without rows.
 *
 *     csv *table = csv_open("air_density.csv");
 *     while (csv_next(table)) {
 *         vent_air air = vent_air_moist(csv_number(table, "temperature"), ...);
 *         csv_expect(table, "density", air.density, 1e-10, 0);
 *     }
 *     csv_close(table);
 */
#ifndef VENT_TEST_CSV_H
#define VENT_TEST_CSV_H

#include <stdbool.h>

typedef struct csv csv;

/* Opens tests/reference/NAME and reads its header line; lines that begin with # and empty lines
 * are passed over. */
csv *csv_open(const char *name);
/* Reads the next row; false after the last. */
bool csv_next(csv *table);
/* Field of the present row, by column name. */
const char *csv_text(const csv *table, const char *column);
/* The same as a number (nan and inf are numbers, an empty field is not). */
double csv_number(const csv *table, const char *column);
/* True where the present row's field is not empty. */
bool csv_has(const csv *table, const char *column);
/* "NAME:LINE" of the present row, for messages. */
const char *csv_where(const csv *table);
/* Asserts |got - want| <= relative |want| + absolute, where want is the field of that column; a NaN
 * is met by a NaN only, an infinity by itself. */
void csv_expect(const csv *table, const char *column, double got, double relative, double absolute);
/* Closes the table; a table without rows fails the test. */
void csv_close(csv *table);

#endif
