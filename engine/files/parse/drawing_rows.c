/* The seats among a drawing's inserts as lines of CSV, each with the line of its insert. */
#include "files/parse/drawing_parts.h"

#include <stdlib.h>
#include <string.h>

static const char *const own_name[N_OWN] = {"x",        "y",          "z",    "turn",
                                            "faces_up", "faces_down", "part", "layer"};

/* The inserts that are seats, and the columns that are asked for or could have been. */
typedef struct selection {
    insert **seat; /* [n_seat] */
    int n_seat, n_name;
    const char *name[MAX_CELL]; /* [n_name] */
} selection;

static int find(const char *const *names, int n, const char *name) {
    for (int k = 0; k < n; k++)
        if (strcmp(names[k], name) == 0) return k;
    return -1;
}

bool drawing_measures(const char *column) {
    return find(own_name, OWN_PART, column) >= 0;
}

static const attribute *find_attribute(const drawing *d, const insert *i, const char *tag) {
    for (int k = 0; k < i->n; k++)
        if (strcmp(d->attribute[i->first + k].tag, tag) == 0) return &d->attribute[i->first + k];
    return NULL;
}

static const char *value_of(const drawing *d, const insert *i, const char *name) {
    int own = find(own_name, N_OWN, name);
    const attribute *found = own < 0 ? find_attribute(d, i, name) : NULL;
    return own >= 0 ? i->own[own] : found ? found->value : NULL;
}

static bool is_whole(const drawing *d, const insert *i, const drawing_use *use) {
    for (int k = 0; k < use->n_needed; k++)
        if (!value_of(d, i, use->name[k])) return false;
    return true;
}

static void refuse_insert(drawing *d, const insert *i, const char *text) {
    refuse(&d->r->c, &(gradin_place){.file = d->path, .line = i->line, .column = 1},
           "an insert of '%s' %s", i->own[OWN_PART], text);
}

static bool is_good(drawing *d, const insert *i) {
    if (i->is_copied) refuse_insert(d, i, "stands for several: explode it");
    if (i->is_below) refuse_insert(d, i, "is mirrored from below (extrusion -z)");
    return !i->is_copied && !i->is_below;
}

static int compare_parts(const void *a, const void *b) {
    const insert *const *one = a, *const *other = b;
    return strcmp((*one)->own[OWN_PART], (*other)->own[OWN_PART]);
}

/* Other things of a drawing are passed over: parts of which no insert has the attributes, and what
 * stands on a sheet beside the model. */
static bool find_lacking(drawing *d, const selection *s, const drawing_use *use) {
    const insert **part = alloc(&d->r->c, s->n_seat, sizeof(const insert *));
    if (!part) return false;
    for (int k = 0; k < s->n_seat; k++) part[k] = s->seat[k];
    if (s->n_seat > 0) qsort(part, (size_t)s->n_seat, sizeof(const insert *), compare_parts);
    for (int k = 0; k < d->n_insert && s->n_seat > 0; k++) {
        const insert *i = &d->insert[k];
        if (!i->is_on_sheet && !is_whole(d, i, use) &&
            bsearch(&i, part, (size_t)s->n_seat, sizeof(const insert *), compare_parts))
            refuse_insert(d, i, "lacks an attribute that others of it have");
    }
    return true;
}

static bool find_seats(drawing *d, selection *s, const drawing_use *use) {
    s->seat = alloc(&d->r->c, d->n_insert, sizeof(insert *));
    for (int k = 0; s->seat && k < d->n_insert; k++)
        if (!d->insert[k].is_on_sheet && is_whole(d, &d->insert[k], use) &&
            is_good(d, &d->insert[k]))
            s->seat[s->n_seat++] = &d->insert[k];
    return s->seat && find_lacking(d, s, use);
}

static void add_name(selection *s, const char *name) {
    if (s->n_name < MAX_CELL && find(s->name, s->n_name, name) < 0) s->name[s->n_name++] = name;
}

static bool has_tag(const drawing *d, const selection *s, const char *name) {
    for (int k = 0; k < s->n_seat; k++)
        if (value_of(d, s->seat[k], name)) return true;
    return false;
}

/* The columns that are used; when one of them is not there, all that are, to be told which. */
static void list_names(const drawing *d, selection *s, const drawing_use *use) {
    bool is_there = true;
    for (int k = 0; k < use->n; k++) is_there &= has_tag(d, s, use->name[k]);
    for (int k = 0; is_there && k < use->n; k++) add_name(s, use->name[k]);
    if (is_there) return;
    for (int k = 0; k < N_OWN; k++) add_name(s, own_name[k]);
    for (int k = 0; k < d->n_attribute && s->n_name < MAX_CELL; k++)
        add_name(s, d->attribute[k].tag);
    s->n_seat = 0;
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

static size_t cell_size(const char *text) {
    return text ? 2 * strlen(text) + 3 : 3;
}

static size_t most_size(const drawing *d, const selection *s) {
    size_t size = 1;
    for (int k = 0; k < s->n_name; k++) {
        size += cell_size(s->name[k]);
        for (int i = 0; i < s->n_seat; i++) size += cell_size(value_of(d, s->seat[i], s->name[k]));
    }
    return size;
}

static char *put_row(const drawing *d, const insert *i, const selection *s, char *out) {
    for (int k = 0; k < s->n_name; k++) {
        const char *value = value_of(d, i, s->name[k]);
        out = put_cell(out, value ? value : "", k + 1 < s->n_name ? ',' : '\n');
    }
    return out;
}

static bool is_ascii(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text > 0x7E) return false;
    return true;
}

/* Of what is used alone: a drawing has much else. */
static bool has_known_letters(drawing *d, const selection *s) {
    for (int i = 0; i < s->n_seat && d->is_old_code; i++)
        for (int k = 0; k < s->n_name; k++) {
            const char *value = value_of(d, s->seat[i], s->name[k]);
            const attribute *a = find_attribute(d, s->seat[i], s->name[k]);
            if (!value || is_ascii(value)) continue;
            complain_line(d->r, d->path, a ? a->line : s->seat[i]->line,
                          "has letters in a code that is not stated: save the drawing as release "
                          "2007 (AC1021) or later");
            return false;
        }
    return true;
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

/* The rows' text and their lines; NULL when out of memory. */
static char *write_rows(drawing *d, const selection *s, int *line_of) {
    char *text = note_failure(&d->r->c, gradin_arena_alloc(d->r->c.arena, most_size(d, s), 1));
    char *at = text;
    if (!text) return NULL;
    for (int k = 0; k < s->n_name; k++)
        at = put_cell(at, s->name[k], k + 1 < s->n_name ? ',' : '\n');
    for (int i = 0; i < s->n_seat; i++) {
        line_of[i] = s->seat[i]->line;
        at = put_row(d, s->seat[i], s, at);
    }
    at[-1] = '\0';
    return text;
}

bool drawing_rows(drawing *d, const drawing_use *use, cell_file *out) {
    selection s = {0};
    if (!find_seats(d, &s, use)) return false;
    for (int i = 0; i < s.n_seat; i++)
        if (!turn_round(d, s.seat[i])) return false;
    list_names(d, &s, use);
    int *line_of = alloc(&d->r->c, s.n_seat, sizeof *line_of);
    if (!line_of || !has_known_letters(d, &s)) return false;
    char *text = write_rows(d, &s, line_of);
    if (!text) return false;
    *out = (cell_file){.path = d->path, .next = text, .separator = ',', .line_of = line_of};
    return cells_names(d->r, out);
}
