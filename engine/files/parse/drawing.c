/* Reads what a seat list needs of a drawing exchange file: header units, inserts and their
 * attributes. The file is lines of a group code and its value by turns; group codes from memory,
 * an independent writer makes the files of the tests. */
#include "files/parse/drawing.h"
#include "files/parse/drawing_parts.h"
#include "files/parse/lines.h"

#include <limits.h>
#include <string.h>
#include <strings.h>

enum { MOST_BYTES = 64 << 20, MOST_INSERT = 1000000 };

/* Where in the file; a section's name stands behind SECTION. */
typedef enum section { NO_SECTION, SECTION_BEGINS, HEADER, ENTITIES, OTHER_SECTION } section;

/* What the values belong to. */
typedef enum holder { NOTHING, INSERT, ATTRIBUTE, WITHIN_ATTRIBUTE } holder;

typedef struct scan {
    drawing *d;
    const char *variable, *release;
    char *next, *value;
    int code, line; /* of the value last read */
    int insert_capacity, attribute_capacity;
    section section;
    holder holder;
    bool is_ended, is_bad;
} scan;

bool is_drawing(const char *path) {
    const char *dot = strrchr(path, '.');
    return dot && strcasecmp(dot, ".dxf") == 0;
}

/* A whole number as the file has it, INT_MIN when it is none. */
static int parse_whole(const char *text) {
    double number;
    text += strspn(text, " \t");
    return gradin_parse_number(text, &number) && fabs(number) <= 1e6 && number == nearbyint(number)
               ? (int)number
               : INT_MIN;
}

/* The next code and value. False at the end of the file or after a complaint. */
static bool take_pair(scan *s) {
    if (!s->next) return false;
    char *text = lines_take(&s->next, &s->line);
    s->code = parse_whole(text);
    if (!s->next || s->code == INT_MIN) {
        s->is_bad = text[strspn(text, " \t")] != '\0' || s->next;
        if (s->is_bad)
            complain_line(s->d->r, s->d->path, s->line, "is no group code of a drawing in ASCII");
        s->next = NULL;
        return false;
    }
    s->value = lines_take(&s->next, &s->line);
    return true;
}

static void take_header(scan *s) {
    static const int of_code[] = {DRAWING_NO_UNIT, 4, 3, DRAWING_OTHER_UNIT, 2, 1, 0};
    if (s->code == 9) s->variable = s->value;
    if (s->code == 1 && strcmp(s->variable, "$ACADVER") == 0) s->release = s->value;
    if (s->code != 70 || strcmp(s->variable, "$INSUNITS") != 0) return;
    int value = parse_whole(s->value);
    s->d->unit = value >= 0 && value <= 6 ? of_code[value] : DRAWING_OTHER_UNIT;
}

/* \U+00D6 as UTF-8, in place: it never gets longer. */
static void unfold(char *text) {
    char *out = text;
    for (const char *at = text; *at;) {
        unsigned point = 0;
        size_t n = 0;
        if (strncmp(at, "\\U+", 3) == 0)
            for (; n < 4 && strchr("0123456789ABCDEFabcdef", at[3 + n]) && at[3 + n]; n++)
                point = point * 16 + (unsigned)(at[3 + n] <= '9' ? at[3 + n] - '0'
                                                                 : (at[3 + n] | 32) - 'a' + 10);
        if (n < 4 || point < 0x80 || (point >= 0xD800 && point < 0xE000)) {
            *out++ = *at++;
            continue;
        }
        if (point >= 0x800) *out++ = (char)(0xE0 | point >> 12);
        *out++ = (char)(point >= 0x800 ? 0x80 | (point >> 6 & 0x3F) : 0xC0 | point >> 6);
        *out++ = (char)(0x80 | (point & 0x3F));
        at += 7;
    }
    *out = '\0';
}

static bool add_insert(scan *s) {
    drawing *d = s->d;
    if (d->n_insert == MOST_INSERT) {
        complain_line(d->r, d->path, s->line, "has more than 1000000 inserts");
        return false;
    }
    if (!grow(&d->r->c, (void **)&d->insert, d->n_insert, &s->insert_capacity, sizeof *d->insert))
        return false;
    d->insert[d->n_insert++] = (insert){
        .own = {"0", "0", "0", "0", "", "", "", ""}, .line = s->line, .first = d->n_attribute};
    return true;
}

static bool add_attribute(scan *s) {
    drawing *d = s->d;
    if (!grow(&d->r->c, (void **)&d->attribute, d->n_attribute, &s->attribute_capacity,
              sizeof *d->attribute))
        return false;
    d->attribute[d->n_attribute++] = (attribute){"", "", s->line};
    d->insert[d->n_insert - 1].n++;
    return true;
}

/* A thing of the model's own space begins: inserts within blocks are none of them. */
static bool begin(scan *s) {
    bool is_of_insert = s->holder != NOTHING && strcmp(s->value, "ATTRIB") == 0;
    bool is_insert = s->section == ENTITIES && strcmp(s->value, "INSERT") == 0;
    s->holder = is_of_insert ? ATTRIBUTE : is_insert ? INSERT : NOTHING;
    if (strcmp(s->value, "EOF") == 0) s->is_ended = true;
    if (strcmp(s->value, "ENDSEC") == 0) s->section = NO_SECTION;
    if (strcmp(s->value, "SECTION") == 0) s->section = SECTION_BEGINS;
    return is_of_insert ? add_attribute(s) : !is_insert || add_insert(s);
}

static void begin_section(scan *s) {
    bool is_entities = s->code == 2 && strcmp(s->value, "ENTITIES") == 0;
    bool is_header = s->code == 2 && strcmp(s->value, "HEADER") == 0;
    s->section = is_entities ? ENTITIES : is_header ? HEADER : OTHER_SECTION;
}

static void take_attribute(scan *s, attribute *a) {
    if (s->code == 101) s->holder = WITHIN_ATTRIBUTE; /* its text once more, with its looks */
    if (s->code == 2) a->tag = s->value;
    if (s->code != 1) return;
    unfold(s->value);
    a->value = s->value;
    a->line = s->line;
}

static void take_insert(scan *s, insert *made) {
    static const int own_code[N_OWN] = {10, 20, 30, 50, -1, -1, 2, 8};
    double number = 0.0;
    s->value += strspn(s->value, " ");
    for (int k = 0; k < N_OWN; k++)
        if (s->code == own_code[k]) made->own[k] = s->value;
    if (s->code == 2 || s->code == 8) unfold(s->value);
    bool is_number = gradin_parse_number(s->value, &number);
    if (s->code == 42) made->is_flipped = is_number && number < 0.0;
    if (s->code == 67) made->is_on_sheet = is_number && number != 0.0;
    if (s->code == 70 || s->code == 71) made->is_copied |= is_number && number > 1.0;
    if (s->code == 230) made->is_below = is_number && number < 0.0;
}

static bool take(scan *s) {
    if (s->code == 999) return true; /* a comment */
    if (s->code == 0) return begin(s);
    if (s->section == SECTION_BEGINS)
        begin_section(s);
    else if (s->section == HEADER)
        take_header(s);
    else if (s->holder == ATTRIBUTE)
        take_attribute(s, &s->d->attribute[s->d->n_attribute - 1]);
    else if (s->holder == INSERT)
        take_insert(s, &s->d->insert[s->d->n_insert - 1]);
    return true;
}

static bool read_all(scan *s) {
    while (take_pair(s)) {
        if (!take(s)) return false;
        if (s->is_ended) return true;
    }
    if (!s->is_bad)
        complain_line(s->d->r, s->d->path, s->line, "ends before EOF: the drawing is not whole");
    return false;
}

bool drawing_open(reader *r, const node *at, const char *path, const drawing_use *use,
                  cell_file *out, int *unit) {
    drawing d = {.r = r, .path = path, .unit = DRAWING_NO_UNIT};
    scan s = {.d = &d, .variable = ""};
    s.next = lines_open(r, at, path, MOST_BYTES);
    if (!s.next || !read_all(&s)) return false;
    d.is_old_code = !s.release || strcmp(s.release, "AC1021") < 0; /* UTF-8 from there on */
    *unit = d.unit;
    return drawing_rows(&d, use, out);
}
