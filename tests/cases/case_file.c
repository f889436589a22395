#include "case_file.h"

#include "gradin/base.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct case_reader {
    FILE *file;
    const char *path;
    int number, source_line;
    bool has_case; /* the present source has one */
    char text[CASE_LINE_CHARS], words[CASE_LINE_CHARS];
    char source[CASE_TEXT_CHARS], status[CASE_WORD_CHARS];
};

typedef struct unit {
    const char *name, *dimension;
    double si;
} unit;

/* Angles, temperatures and percentages keep their unit, as the engine's own names do. */
static const unit units[] = {
    {"", "number", 1.0},     {"m", "length", 1.0},         {"mm", "length", 0.001},
    {"cm", "length", 0.01},  {"in", "length", 0.0254},     {"ft", "length", GRADIN_FOOT_M},
    {"deg", "angle", 1.0},   {"Hz", "frequency", 1.0},     {"kHz", "frequency", 1000.0},
    {"dB", "level", 1.0},    {"dB/m", "attenuation", 1.0}, {"dB/km", "attenuation", 0.001},
    {"s", "time", 1.0},      {"%", "share", 1.0},          {"kg/m2", "mass of area", 1.0},
    {"degC", "warmth", 1.0}, {"kg/m3", "density", 1.0},    {"Pa", "pressure", 1.0},
    {"m/s", "speed", 1.0},   {"kPa", "pressure", 1e3},     {"GPa", "pressure", 1e9},
    {"m2", "area", 1.0},     {"m3", "volume", 1.0},        {"sr", "solid angle", 1.0},
};

static const char *const statuses[] = {"confirmed", "recomputed", "memory", "derived", "practice"};

__attribute__((format(printf, 2, 3))) static int refuse(const case_reader *r, const char *format,
                                                        ...) {
    va_list arguments;
    va_start(arguments, format);
    fprintf(stderr, "%s:%d: ", r->path, r->number);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    return -1;
}

case_reader *case_open(const char *path) {
    case_reader *r = calloc(1, sizeof *r);
    if (r) r->file = fopen(path, "r");
    if (r && r->file) {
        r->path = path;
        return r;
    }
    fprintf(stderr, "%s: cannot be read\n", path);
    free(r);
    return NULL;
}

void case_close(case_reader *r) {
    if (!r) return;
    fclose(r->file);
    free(r);
}

static const unit *find_unit(const char *name) {
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strcmp(units[i].name, name) == 0) return &units[i];
    return NULL;
}

/* The number that text begins with; *rest is what follows it. */
static bool read_number(char *text, double *value, char **rest) {
    size_t n = strspn(text, "+-.0123456789");
    if (n > 0 && (text[n] == 'e' || text[n] == 'E')) {
        size_t sign = text[n + 1] == '-' || text[n + 1] == '+';
        size_t digits = strspn(text + n + 1 + sign, "0123456789");
        if (digits > 0) n += 1 + sign + digits;
    }
    char kept = text[n];
    text[n] = '\0';
    bool is_number = gradin_parse_number(text, value);
    text[n] = kept;
    *rest = text + n;
    return is_number;
}

/* One value with its unit. */
static int read_value(const case_reader *r, char *text, double *si, const unit **found) {
    char *rest;
    if (!read_number(text, si, &rest)) return refuse(r, "'%s' is no number", text);
    *found = find_unit(rest);
    if (!*found) return refuse(r, "unknown unit '%s'", rest);
    *si *= (*found)->si;
    return 1;
}

/* "2,3,4dB" into exactly n values. */
static int read_list(const case_reader *r, char *text, const char *name, int n, double *si) {
    double scale = 1.0;
    for (int i = 0; i < n; i++) {
        char *comma = strchr(text, ',');
        if ((comma != NULL) != (i < n - 1)) return refuse(r, "%s needs %d values", name, n);
        if (!comma) {
            const unit *last;
            if (read_value(r, text, &si[i], &last) < 0) return -1;
            scale = last->si;
            break;
        }
        *comma = '\0';
        char *rest;
        if (!read_number(text, &si[i], &rest) || *rest != '\0')
            return refuse(r, "'%s' is no number; the unit stands after the last", text);
        text = comma + 1;
    }
    for (int i = 0; i < n - 1; i++) si[i] *= scale;
    return 1;
}

static const case_operation *find_operation(const char *name) {
    const case_operation *const rooms[] = {case_geometry, case_machines, case_sightline,
                                           case_acoustics};
    for (size_t i = 0; i < sizeof rooms / sizeof *rooms; i++)
        for (const case_operation *o = rooms[i]; o->name; o++)
            if (strcmp(o->name, name) == 0) return o;
    return NULL;
}

static char *next_word(char **cursor) {
    char *word = strtok_r(NULL, " ", cursor);
    return word ? word : "";
}

/* The declaration of the next argument: its name and, after '*', its count. */
static bool next_declared(const char **declared, char name[CASE_WORD_CHARS], int *n) {
    *declared += strspn(*declared, " ");
    size_t width = strcspn(*declared, " ");
    if (width == 0 || width >= CASE_WORD_CHARS) return false;
    memcpy(name, *declared, width);
    name[width] = '\0';
    *declared += width;
    char *star = strchr(name, '*');
    *n = star ? atoi(star + 1) : 1;
    if (star) *star = '\0';
    return true;
}

static int read_arguments(const case_reader *r, case_line *line, char **cursor) {
    const char *declared = line->operation->arguments;
    char name[CASE_WORD_CHARS];
    int n, filled = 0;
    while (next_declared(&declared, name, &n)) {
        char *word = next_word(cursor), *equals = strchr(word, '=');
        size_t width = strlen(name);
        if (strncmp(word, name, width) != 0 || equals != word + width)
            return refuse(r, "'%s' stands where %s=... is needed", word, name);
        if (n < 1 || filled + n > CASE_MAX_ARGUMENT)
            return refuse(r, "%s has more than %d arguments", line->operation->name,
                          CASE_MAX_ARGUMENT);
        if (read_list(r, equals + 1, name, n, line->in + filled) < 0) return -1;
        filled += n;
    }
    return 1;
}

static int read_expected(const case_reader *r, case_line *line, char **cursor) {
    const unit *expected, *tolerance;
    char *word = next_word(cursor);
    if (strcmp(word, "=") != 0) return refuse(r, "'%s' stands where = is needed", word);
    if (read_value(r, next_word(cursor), &line->expected, &expected) < 0) return -1;
    word = next_word(cursor);
    if (strcmp(word, "~") != 0) return refuse(r, "'%s' stands where ~ is needed", word);
    if (read_value(r, next_word(cursor), &line->tolerance, &tolerance) < 0) return -1;
    if (strcmp(expected->dimension, tolerance->dimension) != 0)
        return refuse(r, "the tolerance is in '%s', the expected value in '%s'", tolerance->name,
                      expected->name);
    if (line->tolerance < 0.0) return refuse(r, "the tolerance is negative");
    word = next_word(cursor);
    if (*word != '\0') return refuse(r, "'%s' stands after the tolerance", word);
    line->unit = expected->name;
    line->unit_si = expected->si;
    return 1;
}

static int read_case(case_reader *r, case_line *line) {
    char *cursor, *name = strtok_r(r->words, " ", &cursor);
    if (r->source_line == 0) return refuse(r, "a case stands before any source");
    if (r->status[0] == '\0')
        return refuse(r, "the source of line %d has no status", r->source_line);
    line->operation = find_operation(name);
    if (!line->operation) return refuse(r, "unknown operation '%s'", name);
    if (read_arguments(r, line, &cursor) < 0 || read_expected(r, line, &cursor) < 0) return -1;
    line->text = r->text;
    line->number = r->number;
    line->source = r->source;
    line->source_line = r->source_line;
    line->status = r->status;
    r->has_case = true;
    return 1;
}

static int read_source(case_reader *r, const char *text) {
    if (r->source_line > 0 && !r->has_case)
        return refuse(r, "the source of line %d has no case", r->source_line);
    if (text[strspn(text, " ")] == '\0') return refuse(r, "the source is not named");
    if (strlen(text) >= sizeof r->source) return refuse(r, "the source is too long");
    strcpy(r->source, text);
    r->source_line = r->number;
    r->status[0] = '\0';
    r->has_case = false;
    return 1;
}

static int read_status(case_reader *r, const char *text) {
    if (r->source_line == 0) return refuse(r, "a status stands before any source");
    for (size_t i = 0; i < sizeof statuses / sizeof *statuses; i++)
        if (strcmp(statuses[i], text) == 0) {
            strcpy(r->status, text);
            return 1;
        }
    return refuse(r, "unknown status '%s'", text);
}

/* 1: a line is in r->text; 0: end; -1: refused. */
static int read_text(case_reader *r) {
    if (!fgets(r->text, sizeof r->text, r->file)) {
        if (ferror(r->file)) return refuse(r, "cannot be read");
        if (r->source_line > 0 && !r->has_case)
            return refuse(r, "the source of line %d has no case", r->source_line);
        return 0;
    }
    r->number++;
    size_t n = strlen(r->text);
    if (n == 0 || r->text[n - 1] != '\n') return refuse(r, "the line is too long or has no end");
    while (n > 0 && (r->text[n - 1] == '\n' || r->text[n - 1] == ' ')) r->text[--n] = '\0';
    if (strpbrk(r->text, "\t\r")) return refuse(r, "holds a tab or a carriage return");
    return 1;
}

/* What follows the word and its space in text, "" when nothing does; NULL when text begins with
 * another word. */
static const char *after_word(const char *text, const char *word) {
    size_t n = strlen(word);
    if (strncmp(text, word, n) != 0 || (text[n] != '\0' && text[n] != ' ')) return NULL;
    return text[n] == '\0' ? "" : text + n + 1;
}

int case_next(case_reader *r, case_line *line) {
    int state;
    while ((state = read_text(r)) == 1) {
        const char *source = after_word(r->text, "source");
        const char *status = after_word(r->text, "status");
        if (r->text[0] == '\0' || r->text[0] == '#') continue;
        strcpy(r->words, r->text);
        if (!source && !status) return read_case(r, line);
        state = source ? read_source(r, source) : read_status(r, status);
        if (state < 0) return -1;
    }
    return state;
}
