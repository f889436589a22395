/* Scalars of YAML text. */
#include "base/shared/plain.h"
#include "files/schema/write.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

static bool make_room(schema_text *out, size_t more) {
    if (out->size + more < out->capacity) return true;
    size_t capacity = 2 * (out->capacity + more) + 4096;
    char *bytes = gradin_arena_alloc(out->arena, capacity, 1);
    if (!bytes) return false;
    if (out->size > 0) memcpy(bytes, out->bytes, out->size);
    out->bytes = bytes;
    out->capacity = capacity;
    return true;
}

void schema_put(schema_text *out, const char *format, ...) {
    char text[1200];
    va_list arguments;
    va_start(arguments, format);
    int n = plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    if (n < 0 || (size_t)n >= sizeof text || !make_room(out, (size_t)n)) {
        out->has_failed = true;
        return;
    }
    memcpy(out->bytes + out->size, text, (size_t)n + 1);
    out->size += (size_t)n;
}

enum { MOST_DECIMALS = 25 };

static char *without_zeros(char *text) {
    char *end = text + strlen(text);
    while (strchr(text, '.') && end > text && (end[-1] == '0' || end[-1] == '.')) {
        bool is_point = *--end == '.';
        *end = '\0';
        if (is_point) break;
    }
    return text;
}

/* The fewest decimals that read back as this value. */
static char *format_exact(schema_unit unit, double unit_m, double value, char *text, size_t size) {
    double written = schema_to_file(unit, unit_m, value);
    for (int decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
        double read;
        gradin_format_fixed(text, size, written, decimals);
        if (gradin_parse_number(text, &read) && schema_from_file(unit, unit_m, read) == value)
            break;
    }
    return without_zeros(text);
}

double schema_written(schema_unit unit, double unit_m, double value) {
    char text[400];
    double written = 0.0;
    gradin_parse_number(format_exact(unit, unit_m, value, text, sizeof text), &written);
    return written;
}

void schema_put_number(schema_text *out, const schema_key *key, double value) {
    char text[400];
    double written = schema_to_file(key->unit, out->unit_m, value);
    if (!isfinite(written)) out->missing = key->key;
    if (out->decimals < 0)
        format_exact(key->unit, out->unit_m, value, text, sizeof text);
    else
        without_zeros(gradin_format_fixed(text, sizeof text, written, out->decimals));
    schema_put(out, "%s", text);
}

/* Words that a YAML 1.1 reader takes for something else than text. */
static bool is_taken_word(const char *text) {
    static const char *const words[] = {"yes", "no", "true", "false", "on",
                                        "off", "y",  "n",    "null"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcasecmp(text, words[i]) == 0) return true;
    return false;
}

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_plain(const char *text) {
    bool is_path =
        strncmp(text, "/", 1) == 0 || strncmp(text, "./", 2) == 0 || strncmp(text, "../", 3) == 0;
    if (!is_path && !is_letter(text[0])) return false;
    for (const char *c = text; *c; c++)
        if (!is_letter(*c) && !(*c >= '0' && *c <= '9') && !strchr("_./- ", *c)) return false;
    return text[strlen(text) - 1] != ' ' && !is_taken_word(text);
}

void schema_put_text(schema_text *out, const char *text) {
    if (is_plain(text)) {
        schema_put(out, "%s", text);
        return;
    }
    schema_put(out, "\"");
    for (; *text; text++) {
        if ((unsigned char)*text < 0x20 || *text == 0x7F)
            schema_put(out, "\\x%02X", (unsigned)(unsigned char)*text);
        else
            schema_put(out, *text == '"' || *text == '\\' ? "\\%c" : "%c", *text);
    }
    schema_put(out, "\"");
}
