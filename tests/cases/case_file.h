/* tests/cases/case_file.h: reads a .case file (grammar: case.h) line by line. Anything that the
 * grammar does not allow is refused on stderr with file and line. */
#ifndef GRADIN_TEST_CASE_FILE_H
#define GRADIN_TEST_CASE_FILE_H

#include "case.h"

#include <stdbool.h>

enum { CASE_MAX_ARGUMENT = 128, CASE_LINE_CHARS = 2048, CASE_TEXT_CHARS = 512 };
enum { CASE_WORD_CHARS = 32 };

typedef struct case_line {
    const char *text; /* as written; belongs to the reader */
    const case_operation *operation;
    double in[CASE_MAX_ARGUMENT]; /* SI */
    double expected, tolerance;   /* SI */
    const char *unit;             /* of the expected value, "" for none */
    double unit_si;
    int number, source_line;
    const char *source, *status; /* belong to the reader */
} case_line;

typedef struct case_reader case_reader;

case_reader *case_open(const char *path); /* NULL, with a message, when it cannot be read */
void case_close(case_reader *reader);     /* NULL is allowed */
/* 1: *line is filled; 0: end of file; -1: malformed, with a message. */
int case_next(case_reader *reader, case_line *line);

#endif
