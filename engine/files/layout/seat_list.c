/* A seat list: CSV "row,number,x,y,facing_deg,kind", lengths in the layout's units. */
#include "files/layout/read.h"
#include "files/parse/rows.h"

#include <string.h>

enum { MAX_LIST_BYTES = 4 << 20, N_NUMBER = 5, MAX_COUNT = 10000 };

static const char list_header[] = "row,number,x,y,facing_deg,kind";

static bool parse_kind(const char *text, gradin_seat_kind *kind) {
    for (int k = GRADIN_SEAT_STANDARD; k <= GRADIN_SEAT_COMPANION; k++)
        if (strcmp(text, gradin_seat_kind_name((gradin_seat_kind)k)) == 0) {
            *kind = (gradin_seat_kind)k;
            return true;
        }
    return false;
}

static bool parse_count(double value, int *count) {
    if (value != floor(value) || value < 1 || value > MAX_COUNT) return false;
    *count = (int)value;
    return true;
}

static bool parse_row(const reader *r, const row_file *rows, gradin_listed_seat *seat) {
    double value[N_NUMBER];
    for (int i = 0; i < N_NUMBER && rows->is_whole; i++)
        if (!gradin_parse_number(rows->cell[i], &value[i])) return false;
    if (!rows->is_whole || !parse_count(value[0], &seat->row) ||
        !parse_count(value[1], &seat->number) || fabs(value[4]) > 360.0)
        return false;
    seat->at_m = (gradin_vec2){value[2] * r->unit_m, value[3] * r->unit_m};
    seat->facing_deg = gradin_wrap_360_deg(value[4]);
    return parse_kind(rows->cell[N_NUMBER], &seat->kind);
}

typedef struct seat_list {
    gradin_listed_seat *seat;
    int n, capacity;
} seat_list;

static bool take_row(reader *r, const row_file *rows, seat_list *list) {
    gradin_listed_seat seat = {0};
    if (!parse_row(r, rows, &seat)) {
        complain_line(r, rows->path, rows->line,
                      "needs row,number,x,y,facing_deg,kind; row and number whole, 1 to 10000, "
                      "facing_deg -360 to 360, kind seat, wheelchair or companion");
        return true;
    }
    if (!grow(&r->c, (void **)&list->seat, list->n, &list->capacity, sizeof *list->seat))
        return false;
    list->seat[list->n++] = seat;
    return true;
}

static void read_list(reader *r, const node *at, gradin_block *b) {
    row_file rows;
    seat_list list = {0};
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text));
    if (!path || !rows_open(r, at, path, MAX_LIST_BYTES, list_header, &rows)) return;
    while (rows_next(&rows) && list.n <= GRADIN_MAX_SEAT)
        if (!take_row(r, &rows, &list)) return;
    b->listed = list.seat;
    b->n_listed = list.n;
}

void fill_seat_lists(reader *r, const stated_layout *s, gradin_layout *p) {
    gradin_block *block = p->n_block > 0 ? alloc(&r->c, p->n_block, sizeof *block) : NULL;
    if (!block) return;
    for (int i = 0; i < p->n_block; i++) {
        block[i] = p->block[i];
        if (i < s->n_block && block[i].rows == GRADIN_ROWS_LISTED)
            read_list(r, map_get(s->block[i].at, "file"), &block[i]);
    }
    p->block = block;
}
