/* Reads what a seat list needs of a drawing exchange file: header units, inserts and their
 * attributes. The file is lines of a group code and its value by turns; group codes from memory,
 * an independent writer makes the files of the tests. Rows go on as lines of CSV, each with the
 * line of its insert. */
#include "files/parse/drawing.h"
#include "files/parse/lines.h"

#include <string.h>
#include <strings.h>

enum { MOST_BYTES = 64 << 20, N_OWN = 8, MOST_TAG = MAX_CELL - N_OWN };
static const char *const own_name[N_OWN] = {"x",        "y",          "z",    "turn",
                                            "faces_up", "faces_down", "part", "layer"};
enum { OWN_X, OWN_Y, OWN_Z, OWN_TURN, OWN_UP, OWN_DOWN, OWN_PART, OWN_LAYER };

typedef struct attribute {
    const char *tag, *value;
} attribute;

typedef struct insert {
    const char *own[N_OWN];
    int line, first, n; /* attributes first .. first+n-1 */
    bool is_flipped, is_copied, is_below;
} insert;

typedef struct drawing {
    reader *r;
    const char *path, *variable, *release;
    char *next, *value;
    int code, line; /* of the value last read */
    insert *insert;
    attribute *attribute;
    int n_insert, n_attribute, insert_capacity, attribute_capacity, unit;
    bool is_entities, is_ended, is_insert, is_attribute, is_old_text, is_bad;
} drawing;

bool is_drawing(const char *path) {
    const char *dot = strrchr(path, '.');
    return dot && strcasecmp(dot, ".dxf") == 0;
}

/* The next code and value. False at the end of the file or after a complaint. */
static bool take_pair(drawing *d) {
    double code;
    if (!d->next) return false;
    char *text = lines_take(&d->next, &d->line);
    text += strspn(text, " \t");
    if (!d->next || !gradin_parse_number(text, &code) || code != nearbyint(code)) {
        if (text[0] != '\0' || d->next)
            complain_line(d->r, d->path, d->line, "is no group code of a drawing in ASCII");
        d->is_bad = text[0] != '\0' || d->next;
        d->next = NULL;
        return false;
    }
    d->code = (int)code;
    d->value = lines_take(&d->next, &d->line);
    return true;
}

static void take_header(drawing *d) {
    static const int of_code[] = {DRAWING_NO_UNIT, 4, 3, DRAWING_OTHER_UNIT, 2, 1, 0};
    double value;
    if (d->code == 9)
        d->variable = d->value;
    else if (d->code == 1 && strcmp(d->variable, "$ACADVER") == 0)
        d->release = d->value;
    else if (d->code == 70 && strcmp(d->variable, "$INSUNITS") == 0)
        d->unit = gradin_parse_number(d->value + strspn(d->value, " "), &value) && value >= 0 &&
                          value <= 6
                      ? of_code[(int)value]
                      : DRAWING_OTHER_UNIT;
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

static bool begin(drawing *d) {
    d->is_insert = d->is_insert && (strcmp(d->value, "ATTRIB") == 0);
    d->is_attribute = d->is_insert;
    if (d->is_attribute) {
        if (!grow(&d->r->c, (void **)&d->attribute, d->n_attribute, &d->attribute_capacity,
                  sizeof *d->attribute))
            return false;
        d->attribute[d->n_attribute++] = (attribute){"", ""};
        d->insert[d->n_insert - 1].n++;
    }
    if (strcmp(d->value, "INSERT") != 0) return true;
    if (!grow(&d->r->c, (void **)&d->insert, d->n_insert, &d->insert_capacity, sizeof *d->insert))
        return false;
    d->insert[d->n_insert++] = (insert){
        .own = {"0", "0", "0", "0", "", "", "", ""}, .line = d->line, .first = d->n_attribute};
    d->is_insert = true;
    return true;
}

static void take_attribute(drawing *d, attribute *a) {
    if (d->code == 2) a->tag = d->value;
    if (d->code != 1) return;
    bool is_old = !d->release || strcmp(d->release, "AC1021") < 0; /* UTF-8 from there on */
    for (const char *c = d->value; is_old && *c; c++)
        if ((unsigned char)*c > 0x7E && !d->is_old_text) {
            d->is_old_text = true;
            complain_line(d->r, d->path, d->line,
                          "has letters in a code that is not stated: save the drawing as release "
                          "2007 (AC1021) or later");
        }
    unfold(d->value);
    a->value = d->value;
}

static void take_insert(drawing *d, insert *made) {
    static const int own_code[N_OWN] = {10, 20, 30, 50, -1, -1, 2, 8};
    double number = 0.0;
    d->value += strspn(d->value, " ");
    for (int k = 0; k < N_OWN; k++)
        if (d->code == own_code[k]) made->own[k] = d->value;
    bool is_number = gradin_parse_number(d->value, &number);
    if (d->code == 42) made->is_flipped = is_number && number < 0.0;
    if (d->code == 70 || d->code == 71) made->is_copied |= is_number && number > 1.0;
    if (d->code == 230) made->is_below = is_number && number < 0.0;
}

static bool read_all(drawing *d) {
    while (take_pair(d)) {
        if (d->code == 0) {
            if (strcmp(d->value, "EOF") == 0) d->is_ended = true;
            if (strcmp(d->value, "ENDSEC") == 0) d->is_entities = false;
            if (!begin(d)) return false;
            if (!d->is_entities && d->is_insert) { /* within a block of the drawing */
                d->n_insert--;
                d->is_insert = false;
            }
        } else if (d->code == 2 && !d->is_insert && strcmp(d->value, "ENTITIES") == 0)
            d->is_entities = true;
        else if (d->is_attribute)
            take_attribute(d, &d->attribute[d->n_attribute - 1]);
        else if (d->is_insert)
            take_insert(d, &d->insert[d->n_insert - 1]);
        else if (!d->is_entities)
            take_header(d);
        if (d->is_ended) return true;
    }
    if (!d->is_bad)
        complain_line(d->r, d->path, d->line, "ends before EOF: the drawing is not whole");
    return false;
}

static const char *value_of(const drawing *d, const insert *i, const char *name) {
    for (int k = 0; k < N_OWN; k++)
        if (strcmp(own_name[k], name) == 0) return i->own[k];
    for (int k = 0; k < i->n; k++)
        if (strcmp(d->attribute[i->first + k].tag, name) == 0)
            return d->attribute[i->first + k].value;
    return NULL;
}

static bool is_whole(const drawing *d, const insert *i, const char *const *needed, int n) {
    for (int k = 0; k < n; k++)
        if (!value_of(d, i, needed[k])) return false;
    return true;
}

static bool refuse_insert(drawing *d, const insert *i, const char *text) {
    refuse(&d->r->c, &(gradin_place){.file = d->path, .line = i->line, .column = 1},
           "an insert of '%s' %s", i->own[OWN_PART], text);
    return false;
}

/* Other things of a drawing are passed over: parts of which no insert has the attributes. */
static bool is_seat(drawing *d, const insert *i, const char *const *needed, int n) {
    if (is_whole(d, i, needed, n)) {
        if (i->is_copied) return refuse_insert(d, i, "stands for several: explode it");
        return !i->is_below || refuse_insert(d, i, "is mirrored from below (extrusion -z)");
    }
    for (int k = 0; k < d->n_insert; k++)
        if (strcmp(d->insert[k].own[OWN_PART], i->own[OWN_PART]) == 0 &&
            is_whole(d, &d->insert[k], needed, n))
            return refuse_insert(d, i, "lacks an attribute that others of it have");
    return false;
}

/* The columns' names; their count, 0 after a complaint. */
static int list_names(drawing *d, const char **name) {
    int n = N_OWN;
    memcpy(name, own_name, sizeof own_name);
    for (int i = 0; i < d->n_attribute; i++) {
        int k = 0;
        while (k < n && strcmp(name[k], d->attribute[i].tag) != 0) k++;
        if (k < n) continue;
        if (n == MOST_TAG + N_OWN) {
            complain_line(d->r, d->path, 1, "has more than 192 tags of attributes");
            return 0;
        }
        name[n++] = d->attribute[i].tag;
    }
    return n;
}

static char *put_cell(char *out, const char *text, char end) {
    *out++ = '"';
    for (; *text; text++) {
        if (*text == '"') *out++ = '"';
        *out++ = *text;
    }
    *out++ = '"';
    *out++ = end;
    return out;
}

static size_t most_size(const drawing *d, const char *const *name, int n) {
    size_t size = 1;
    for (int k = 0; k < n; k++) size += 2 * strlen(name[k]) + 3;
    for (int i = 0; i < d->n_insert; i++) {
        for (int k = 0; k < N_OWN; k++) size += 2 * strlen(d->insert[i].own[k]);
        size += 3 * (size_t)n;
    }
    for (int i = 0; i < d->n_attribute; i++) size += 2 * strlen(d->attribute[i].value);
    return size;
}

static char *put_row(const drawing *d, const insert *i, const char *const *name, int n, char *out) {
    for (int k = 0; k < n; k++) {
        const char *value = k < N_OWN ? i->own[k] : value_of(d, i, name[k]);
        out = put_cell(out, value ? value : "", k + 1 < n ? ',' : '\n');
    }
    return out;
}

static bool put_bearing(drawing *d, const char **out, double bearing_deg) {
    char text[40];
    gradin_format_fixed(text, sizeof text, gradin_wrap_360_deg(bearing_deg), 6);
    *out = note_failure(&d->r->c, gradin_arena_copy_text(d->r->c.arena, text));
    return *out != NULL;
}

/* Bearings of a block that faces up, or down, at no turn; one that is mirrored along its own y
 * faces the other way. */
static bool turn_round(drawing *d, insert *i) {
    double turn_deg;
    i->own[OWN_UP] = i->own[OWN_DOWN] = i->own[OWN_TURN];
    if (!gradin_parse_number(i->own[OWN_TURN], &turn_deg)) return true;
    if (i->is_flipped) turn_deg += 180.0;
    return put_bearing(d, &i->own[OWN_TURN], turn_deg) &&
           put_bearing(d, &i->own[OWN_UP], -turn_deg) &&
           put_bearing(d, &i->own[OWN_DOWN], 180.0 - turn_deg);
}

static bool make_rows(drawing *d, const char *const *needed, int n_needed, cell_file *out) {
    const char *name[MAX_CELL];
    int n = list_names(d, name), *line_of = alloc(&d->r->c, d->n_insert + 1, sizeof *line_of);
    for (int i = 0; i < d->n_insert; i++)
        if (!turn_round(d, &d->insert[i])) return false;
    char *text = n > 0 ? alloc(&d->r->c, (int)most_size(d, name, n), 1) : NULL, *at = text;
    if (!line_of || !text) return false;
    for (int k = 0; k < n; k++) at = put_cell(at, name[k], k + 1 < n ? ',' : '\n');
    int n_row = 0;
    for (int i = 0; i < d->n_insert; i++) {
        if (!is_seat(d, &d->insert[i], needed, n_needed)) continue;
        line_of[n_row++] = d->insert[i].line;
        at = put_row(d, &d->insert[i], name, n, at);
    }
    at[-1] = '\0';
    *out = (cell_file){.path = d->path, .next = text, .separator = ',', .line_of = line_of};
    return cells_names(d->r, out);
}

bool drawing_open(reader *r, const node *at, const char *path, const char *const *needed,
                  int n_needed, cell_file *out, int *unit) {
    drawing d = {.r = r, .path = path, .variable = "", .unit = DRAWING_NO_UNIT};
    d.next = lines_open(r, at, path, MOST_BYTES);
    if (!d.next || !read_all(&d) || !make_rows(&d, needed, n_needed, out)) return false;
    *unit = d.unit;
    return true;
}
