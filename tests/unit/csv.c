/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv.h"

#include <check.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_SIZE = 4096, MAX_COLUMNS = 64 };

/* Fields point into the line they were cut from. */
typedef struct record {
    char line[LINE_SIZE];
    int width;
    char *field[MAX_COLUMNS];
} record;

struct csv {
    FILE *file;
    char name[128];
    char where[160];
    int line, rows;
    record header, row;
};

/* Cuts one field off at *from: plain up to the next comma, or quoted with "" for a quote. */
static char *cut_field(const csv *table, char **from, bool *more)
{
    char *start = *from, *read = start;
    if (*read == '"') {
        char *write = start;
        for (read++; *read != '"' || read[1] == '"'; read++) {
            if (*read == '\0')
                ck_abort_msg("%s: a quoted field does not end", table->where);
            if (*read == '"')
                read++;
            *write++ = *read;
        }
        read++;
        if (*read != ',' && *read != '\0')
            ck_abort_msg("%s: text after a closing quote: %s", table->where, read);
        *more = *read == ',';
        *write = '\0';
    } else {
        read += strcspn(read, ",\"");
        if (*read == '"')
            ck_abort_msg("%s: a quote inside a plain field: %s", table->where, start);
        *more = *read == ',';
        *read = '\0';
    }
    *from = read + 1;
    return start;
}

static void split(const csv *table, record *into)
{
    char *from = into->line;
    bool more = true;
    for (into->width = 0; more; into->width++) {
        if (into->width == MAX_COLUMNS)
            ck_abort_msg("%s: more than %d columns", table->where, MAX_COLUMNS);
        into->field[into->width] = cut_field(table, &from, &more);
    }
}

/* Reads and splits the next line that is neither empty nor a comment. */
static bool read_record(csv *table, record *into)
{
    do {
        if (!fgets(into->line, LINE_SIZE, table->file)) {
            ck_assert_msg(feof(table->file), "%s: cannot be read", table->name);
            return false;
        }
        snprintf(table->where, sizeof table->where, "%s:%d", table->name, ++table->line);
        size_t length = strlen(into->line);
        ck_assert_msg(length > 0 && into->line[length - 1] == '\n',
                      "%s: a line too long or without an end", table->where);
        into->line[length - 1] = '\0';
        ck_assert_msg(!strchr(into->line, '\r'), "%s: a carriage return", table->where);
    } while (into->line[0] == '#' || into->line[0] == '\0');
    split(table, into);
    return true;
}

static void check_header(const csv *table)
{
    const record *header = &table->header;
    for (int i = 0; i < header->width; i++) {
        ck_assert_msg(header->field[i][0] != '\0', "%s: column %d has no name", table->where,
                      i + 1);
        for (int j = 0; j < i; j++)
            ck_assert_msg(strcmp(header->field[i], header->field[j]) != 0,
                          "%s: column %s stands twice", table->where, header->field[i]);
    }
}

csv *csv_open(const char *name)
{
    char path[1024];
    int length = snprintf(path, sizeof path, "%s/%s", REFERENCE_DIR, name);
    ck_assert_msg(length > 0 && (size_t)length < sizeof path, "%s: path too long", name);
    csv *table = calloc(1, sizeof *table);
    ck_assert_ptr_nonnull(table);
    snprintf(table->name, sizeof table->name, "%s", name);
    table->file = fopen(path, "r");
    ck_assert_msg(table->file != NULL, "%s: %s", path, strerror(errno));
    ck_assert_msg(read_record(table, &table->header), "%s: no header line", name);
    check_header(table);
    return table;
}

bool csv_next(csv *table)
{
    if (!read_record(table, &table->row))
        return false;
    ck_assert_msg(table->row.width == table->header.width, "%s: %d fields under %d columns",
                  table->where, table->row.width, table->header.width);
    table->rows++;
    return true;
}

const char *csv_text(const csv *table, const char *column)
{
    ck_assert_msg(table->rows > 0, "%s: no row was read yet", table->name);
    for (int i = 0; i < table->header.width; i++)
        if (strcmp(table->header.field[i], column) == 0)
            return table->row.field[i];
    ck_abort_msg("%s: there is no column %s", table->name, column);
    return NULL;
}

double csv_number(const csv *table, const char *column)
{
    const char *text = csv_text(table, column);
    char *end;
    double number = strtod(text, &end);
    ck_assert_msg(end != text && *end == '\0', "%s: %s is not a number: \"%s\"", table->where,
                  column, text);
    return number;
}

bool csv_has(const csv *table, const char *column)
{
    return csv_text(table, column)[0] != '\0';
}

const char *csv_where(const csv *table)
{
    return table->where;
}

void csv_expect(const csv *table, const char *column, double got, double relative, double absolute)
{
    double want = csv_number(table, column);
    if ((isnan(want) && isnan(got)) || (isinf(want) && want == got))
        return;
    double error = fabs(got - want), allowed = relative * fabs(want) + absolute;
    ck_assert_msg(isfinite(want) && error <= allowed,
                  "%s: %s is %.17g, the source says %.17g: off by %.3g, allowed %.3g", table->where,
                  column, got, want, error, allowed);
}

void csv_close(csv *table)
{
    ck_assert_msg(table->rows > 0, "%s: a table without rows", table->name);
    fclose(table->file);
    free(table);
}
