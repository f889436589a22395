/* A seat list: CSV "row,number,x,y,facing_deg,kind", lengths in the layout's units. */
#include "layout/build.h"

#include <string.h>

enum { MAX_LIST_BYTES = 4 << 20, N_CELL = 6 };

static const char list_header[] = "row,number,x,y,facing_deg,kind";

static bool split(char *line, char *cell[N_CELL]) {
    int n = 0;
    for (char *at = line; at && n < N_CELL; n++) {
        cell[n] = at;
        at = strchr(at, ',');
        if (at) *at++ = '\0';
        if (!at) return n == N_CELL - 1;
    }
    return false;
}

static bool parse_kind(const char *text, gradin_seat_kind *kind) {
    for (int k = GRADIN_SEAT_STANDARD; k <= GRADIN_SEAT_COMPANION; k++)
        if (strcmp(text, gradin_seat_kind_name((gradin_seat_kind)k)) == 0) {
            *kind = (gradin_seat_kind)k;
            return true;
        }
    return false;
}

static bool parse_line(builder *b, char *line, place *p) {
    char *cell[N_CELL];
    double value[N_CELL - 1];
    if (!split(line, cell)) return false;
    for (int i = 0; i < N_CELL - 1; i++)
        if (!gradin_parse_number(cell[i], &value[i])) return false;
    if (value[0] < 1 || value[0] > 10000 || value[1] < 1 || value[1] > 10000) return false;
    p->row = (int)value[0];
    p->number = (int)value[1];
    p->at_m = (gradin_vec2){value[2] * b->r->unit_m, value[3] * b->r->unit_m};
    p->facing_deg = gradin_wrap_360_deg(value[4]);
    return parse_kind(cell[5], &p->kind);
}

static bool take_line(builder *b, int index, const seat_block *from, int number, char *line) {
    place p = {.block = index,
               .z_m = from->base_m,
               .width_m = from->seat_width_m,
               .depth_m = from->depth_m[0],
               .deck = -1};
    if (parse_line(b, line, &p)) return add_place(b, p);
    complain_line(b->r, from->csv, number,
                  "needs row,number,x,y,facing_deg,kind; row and number from 1, kind seat, "
                  "wheelchair or companion");
    return true;
}

static bool take_list(builder *b, int index, const seat_block *from, char *bytes) {
    int number = 0;
    for (char *line = bytes, *next; line; line = next) {
        next = strchr(line, '\n');
        if (next) *next++ = '\0';
        line[strcspn(line, "\r")] = '\0';
        if (++number == 1 && strcmp(line, list_header) != 0) {
            complain_line(b->r, from->csv, 1,
                          "the first line must be row,number,x,y,facing_deg,kind");
            return true;
        }
        if (number > 1 && line[0] != '\0' && !take_line(b, index, from, number, line)) return false;
    }
    return true;
}

bool place_file_rows(builder *b, int index, const seat_block *from) {
    char *bytes;
    size_t size;
    gradin_error reason = {0};
    gradin_status status =
        gradin_read_file(b->r->arena, from->csv, MAX_LIST_BYTES, &bytes, &size, &reason);
    if (status == GRADIN_NO_MEMORY) return kept(b->r, NULL) != NULL;
    if (status != GRADIN_OK) {
        complain(b->r, from->csv_at, "%s %s", from->csv, reason.diagnostic[0].text);
        return true;
    }
    reader_digest(b->r, bytes, size);
    return take_list(b, index, from, bytes);
}
