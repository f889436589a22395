/* Seat lists: CSV with a column for each thing, in the units and with the signs that are stated. A
 * plain one is "row,number,x,y,facing_deg,kind", lengths in the layout's units. The drawing's plane
 * is mirrored (y down), turned clockwise and shifted, in this order, onto the hall's plan. */
#include "files/layout/seat_list.h"
#include "base/steering.h"

#include "files/parse/drawing.h"

#include <stdio.h>
#include <string.h>

enum { MAX_LIST_BYTES = 4 << 20, MAX_COUNT = 10000, MAX_LABEL = 100 };
static const double LOWEST_M = -30.0, HIGHEST_M = 60.0, FARTHEST_M = 1e6;

static const char plain_header[] = "row,number,x,y,facing_deg,kind";
static const char *plain_place[] = {"x", "y"};
static const stated_seat_list plain_list = {.columns = {.place = plain_place,
                                                        .n_place = 2,
                                                        .facing = "facing_deg",
                                                        .row = "row",
                                                        .seat = "number",
                                                        .kind = "kind"},
                                            .faces_m = {NAN, NAN},
                                            .facing_deg = NAN};

/* Words of `units`, `separator` and `decimal`, in the order of their tables. */
static const double unit_in_m[] = {1.0, 0.01, 0.001, GRADIN_FOOT_M, GRADIN_FOOT_M / 12.0};
static const char separator_of[] = {',', ';', '\t'};
enum { DECIMAL_COMMA = 1, FACING_ANGLE = 1 };

/* A list being read; a column that it does not have is -1. */
typedef struct list_job {
    reader *r;
    const stated_seat_list *s;
    cell_file file;
    bool is_plain, is_drawn;
    const gradin_audience *audience;
    double unit_m;
    int x, y, floor, eye, facing, row, seat, block, level, kind;
} list_job;

static bool find_column(list_job *j, const char *key, const char *name, int *index) {
    *index = name ? cells_find(j->r, &j->file, j->s->columns.at, key, name) : -1;
    return !name || *index >= 0;
}

static bool find_columns(list_job *j) {
    const stated_columns *c = &j->s->columns;
    bool good = find_column(j, "place", c->place[0], &j->x);
    good &= find_column(j, "place", c->place[1], &j->y);
    good &= find_column(j, "floor", c->floor, &j->floor);
    good &= find_column(j, "eye", c->eye, &j->eye);
    good &= find_column(j, "facing", c->facing, &j->facing);
    good &= find_column(j, "row", c->row, &j->row);
    good &= find_column(j, "seat", c->seat, &j->seat);
    good &= find_column(j, "block", c->block, &j->block);
    good &= find_column(j, "level", c->level, &j->level);
    return find_column(j, "kind", c->kind, &j->kind) && good;
}

static bool has_plain_header(list_job *j) {
    char line[sizeof plain_header + MAX_CELL] = "";
    size_t used = 0;
    for (int i = 0; i < j->file.n_name && used < sizeof plain_header; i++)
        used += (size_t)snprintf(line + used, sizeof line - used, "%s%.100s", i ? "," : "",
                                 j->file.name[i]);
    if (strcmp(line, plain_header) == 0) return true;
    refuse(&j->r->c, &(gradin_place){.file = j->file.path, .line = 1, .column = 1},
           "the first line must be %s", plain_header);
    return false;
}

/* A number with the stated decimal sign; a drawing's own numbers have a point. */
static bool take_number(list_job *j, int index, double *out) {
    char text[64], *point;
    const char *written = j->file.cell[index].text;
    bool is_comma =
        j->s->decimal == DECIMAL_COMMA && !(j->is_drawn && drawing_measures(j->file.name[index]));
    snprintf(text, sizeof text, "%s", written);
    if (is_comma && (point = strchr(text, ',')) != NULL) *point = '.';
    bool is_foreign = is_comma && strchr(written, '.');
    if (strlen(written) < sizeof text && !is_foreign && gradin_parse_number(text, out)) return true;
    cells_complain(j->r, &j->file, index, "is '%s'; a plain number with a decimal %s is needed",
                   written, is_comma ? "comma" : "point");
    return false;
}

static bool take_within(list_job *j, int index, double least, double most, double *out) {
    char low[64], high[64];
    if (!take_number(j, index, out)) return false;
    if (*out >= least && *out <= most) return true;
    cells_complain(j->r, &j->file, index, "is %s; allowed: %s to %s", j->file.cell[index].text,
                   gradin_format_fixed(low, sizeof low, least, 0),
                   gradin_format_fixed(high, sizeof high, most, 0));
    return false;
}

static bool is_text(const char *text) {
    return text[0] && strlen(text) <= MAX_LABEL && is_plain_text(text);
}

static bool take_text(list_job *j, int index, const char **out) {
    *out = j->file.cell[index].text;
    if (is_text(*out)) return true;
    cells_complain(
        j->r, &j->file, index,
        "is empty, longer than 100 characters, or no plain text in UTF-8: a label is needed");
    return false;
}

/* 1 to 10000 in figures alone, as one would write it. */
static bool parse_count(const char *text, int *count) {
    double value;
    bool is_figures = text[strspn(text, "0123456789")] == '\0' && text[0] != '0';
    if (!is_figures || !gradin_parse_number(text, &value) || value < 1 || value > MAX_COUNT)
        return false;
    *count = (int)value;
    return true;
}

static bool take_count(list_job *j, int index, int *out) {
    if (parse_count(j->file.cell[index].text, out)) return true;
    cells_complain(j->r, &j->file, index, "is '%s'; a whole number from 1 to 10000 is needed",
                   j->file.cell[index].text);
    return false;
}

/* Rows of a plain list are counted; labels of others are kept, and counted later. */
static bool take_labels(list_job *j, gradin_listed_seat *seat) {
    bool good;
    if (j->is_plain) {
        good = take_count(j, j->row, &seat->row);
        return take_count(j, j->seat, &seat->number) && good;
    }
    good = take_text(j, j->row, &seat->row_label);
    good &= take_text(j, j->seat, &seat->seat_label);
    if (good && !parse_count(seat->seat_label, &seat->number)) seat->number = 0;
    return good;
}

static bool is_word(const char *text, const char *const *word, int n, const char *preset) {
    if (n == 0) return strcmp(text, preset) == 0;
    for (int i = 0; i < n; i++)
        if (strcmp(text, word[i]) == 0) return true;
    return false;
}

static bool take_kind(list_job *j, gradin_seat_kind *kind) {
    const stated_place_words *k = &j->s->kinds;
    const char *text = j->kind >= 0 ? j->file.cell[j->kind].text : "";
    const char *const *word[] = {k->seat, k->wheelchair, k->companion};
    const int n_word[] = {k->n_seat, k->n_wheelchair, k->n_companion};
    *kind = GRADIN_SEAT_STANDARD;
    if (text[0] == '\0' && !j->is_plain) return true;
    for (int i = GRADIN_SEAT_STANDARD; i <= GRADIN_SEAT_COMPANION; i++) {
        *kind = (gradin_seat_kind)i;
        if (is_word(text, word[i], n_word[i], gradin_seat_kind_name(*kind))) return true;
    }
    cells_complain(j->r, &j->file, j->kind, "is '%s'; %s", text,
                   j->is_plain ? "seat, wheelchair or companion is needed"
                               : "`kinds` of the list has no such word");
    return false;
}

static bool take_place(list_job *j, gradin_listed_seat *seat) {
    double x, y, most = FARTHEST_M / j->unit_m;
    bool good = take_within(j, j->x, -most, most, &x);
    if (!take_within(j, j->y, -most, most, &y) || !good) return false;
    gradin_vec2 right = gradin_bearing_unit(90.0 + j->s->turn_deg),
                up = gradin_bearing_unit(j->s->turn_deg);
    x *= j->unit_m;
    y *= j->s->is_y_down ? -j->unit_m : j->unit_m;
    seat->at_m = (gradin_vec2){j->s->origin_m.x + x * right.x + y * up.x,
                               j->s->origin_m.y + x * right.y + y * up.y};
    return true;
}

/* After the place: the bearing on the hall's plan. */
static bool take_facing(list_job *j, gradin_listed_seat *seat) {
    double written;
    if (j->facing >= 0) {
        if (!take_within(j, j->facing, -360.0, 360.0, &written)) return false;
        double bearing_deg = j->s->facing_as == FACING_ANGLE ? 90.0 - written : written;
        seat->facing_deg = gradin_wrap_360_deg(bearing_deg + j->s->turn_deg);
        return true;
    }
    if (isnan(j->s->faces_m.x)) {
        seat->facing_deg = gradin_wrap_360_deg(j->s->facing_deg);
        return true;
    }
    double dx = j->s->faces_m.x - seat->at_m.x, dy = j->s->faces_m.y - seat->at_m.y;
    seat->facing_deg = gradin_bearing_deg(dx, dy);
    if (hypot(dx, dy) > 1e-3) return true;
    cells_complain(j->r, &j->file, j->x, "is where the point `faces` lies: the seat faces nowhere");
    return false;
}

/* After the kind, which has an eye height of its own. */
static bool take_height(list_job *j, gradin_listed_seat *seat) {
    int index = j->floor >= 0 ? j->floor : j->eye;
    if (index < 0) return true;
    double eye_m = seat->kind == GRADIN_SEAT_WHEELCHAIR ? j->audience->wheelchair_eye_height_m
                                                        : j->audience->eye_height_m;
    double above_m = j->s->origin_height_m - (j->floor >= 0 ? 0.0 : eye_m);
    if (!take_within(j, index, ceil((LOWEST_M - above_m) / j->unit_m),
                     floor((HIGHEST_M - above_m) / j->unit_m), &seat->rise_m))
        return false;
    seat->rise_m = seat->rise_m * j->unit_m + above_m;
    return true;
}

static bool take_groups(list_job *j, list_row *row) {
    bool good = j->block < 0 || take_text(j, j->block, &row->block);
    return (j->level < 0 || take_text(j, j->level, &row->level)) && good;
}

/* All that is wrong with a row is told at once. */
static bool take_row(list_job *j, list_row *row) {
    gradin_listed_seat *seat = &row->seat;
    row->line = j->file.line;
    bool good = take_groups(j, row);
    good &= take_labels(j, seat);
    bool has_place = take_place(j, seat), has_kind = take_kind(j, &seat->kind);
    good &= has_place && take_facing(j, seat);
    return has_kind && take_height(j, seat) && good;
}

static bool is_wanted(const list_job *j, const list_row *row) {
    for (int i = 0; i < j->s->n_only; i++)
        if (row->block && strcmp(row->block, j->s->only[i]) == 0) return true;
    return j->s->n_only == 0;
}

static bool take_rows(list_job *j, list_rows *out) {
    while (cells_next(j->r, &j->file) && out->n <= GRADIN_MAX_SEAT) {
        list_row row = {0};
        if (!take_row(j, &row) || !is_wanted(j, &row)) continue;
        if (!grow(&j->r->c, (void **)&out->row, out->n, &out->capacity, sizeof *out->row))
            return false;
        out->row[out->n++] = row;
    }
    return true;
}

/* The columns that are stated, those that make a seat first. */
static int list_columns(const stated_columns *c, const char **out) {
    const char *const name[] = {c->row, c->seat,   c->place[0], c->place[1], c->floor,
                                c->eye, c->facing, c->block,    c->level,    c->kind};
    int n = 0;
    for (size_t i = 0; i < sizeof name / sizeof name[0]; i++)
        if (name[i]) out[n++] = name[i];
    return n;
}

static bool open_drawing(list_job *j, const node *at, const char *path) {
    static const char *const word[] = {"m", "cm", "mm", "ft", "in"};
    const char *name[10];
    const stated_columns *c = &j->s->columns;
    int unit = DRAWING_NO_UNIT;
    drawing_use use = {name, list_columns(c, name), (c->row != NULL) + (c->seat != NULL)};
    j->is_drawn = true;
    if (!drawing_open(j->r, at, path, &use, &j->file, &unit)) return false;
    if (unit == DRAWING_NO_UNIT || unit == j->s->units) return true;
    complain(j->r, at, "%s has lengths in %s by its header ($INSUNITS); `units` says %s", path,
             unit >= 0 ? word[unit] : "another unit", word[j->s->units]);
    return false;
}

static bool open_list(list_job *j, const node *at, const char *path) {
    if (!j->is_plain && is_drawing(path)) return open_drawing(j, at, path);
    return cells_open(j->r, at, path, MAX_LIST_BYTES, separator_of[j->s->separator], &j->file);
}

bool list_read(reader *r, const node *at, const stated_seat_list *s, bool is_plain,
               const gradin_audience *audience, list_rows *out) {
    list_job j = {.r = r, .s = is_plain ? &plain_list : s, .is_plain = is_plain};
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text));
    j.audience = audience;
    j.unit_m = is_plain ? r->unit_m : unit_in_m[s->units];
    *out = (list_rows){.path = path};
    if (!path || !open_list(&j, at, path) || (is_plain && !has_plain_header(&j)) ||
        !find_columns(&j))
        return false;
    return take_rows(&j, out);
}
