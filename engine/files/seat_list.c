/* A seat list: CSV "row,number,x,y,facing_deg,kind", lengths in the layout's units. */
#include "files/rows.h"
#include "model/build.h"

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

static bool parse_row(const builder *b, const row_file *rows, place *p) {
    double value[N_NUMBER];
    for (int i = 0; i < N_NUMBER && rows->is_whole; i++)
        if (!gradin_parse_number(rows->cell[i], &value[i])) return false;
    if (!rows->is_whole || !parse_count(value[0], &p->row) || !parse_count(value[1], &p->number) ||
        fabs(value[4]) > 360.0)
        return false;
    p->at_m = (gradin_vec2){value[2] * b->r->unit_m, value[3] * b->r->unit_m};
    p->facing_deg = gradin_wrap_360_deg(value[4]);
    return parse_kind(rows->cell[N_NUMBER], &p->kind);
}

static bool take_row(builder *b, int index, const seat_block *from, const row_file *rows) {
    place p = {.block = index,
               .z_m = from->base_m,
               .width_m = from->seat_width_m,
               .depth_m = from->depth_m[0],
               .deck = -1};
    if (parse_row(b, rows, &p)) return add_place(b, p);
    complain_line(b->r, from->csv, rows->line,
                  "needs row,number,x,y,facing_deg,kind; row and number whole, 1 to 10000, "
                  "facing_deg -360 to 360, kind seat, wheelchair or companion");
    return true;
}

bool place_file_rows(builder *b, int index, const seat_block *from) {
    row_file rows;
    if (!rows_open(b->r, from->csv_at, from->csv, MAX_LIST_BYTES, list_header, &rows))
        return b->r->failed == GRADIN_OK;
    while (rows_next(&rows))
        if (!take_row(b, index, from, &rows)) return false;
    return true;
}
