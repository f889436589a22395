/* Blocks from seat lists: each name of a file's column `block` becomes a block, its rows counted
 * from the front by where they stand, whatever their labels say. */
#include "files/layout/seat_list.h"

#include <stdlib.h>
#include <string.h>

/* Rows whose seats face no common way keep the order of the file. */
static const double LEAST_COMMON = 0.2;

/* A row as it is found in the file. */
typedef struct found_row {
    const char *label;
    gradin_vec2 sum_m;
    int n, order;
    double ahead_m;
} found_row;

static int front_first(const void *a, const void *b) {
    const found_row *one = a, *other = b;
    if (one->ahead_m != other->ahead_m) return one->ahead_m > other->ahead_m ? -1 : 1;
    return one->order - other->order;
}

static found_row *row_of(found_row *row, int *n, const char *label) {
    for (int i = *n - 1; i >= 0; i--)
        if (strcmp(row[i].label, label) == 0) return &row[i];
    row[*n] = (found_row){.label = label, .order = *n};
    return &row[(*n)++];
}

/* Mean way that the seats face, of length 1 when all face one way. */
static gradin_vec2 common_way(const gradin_listed_seat *seat, int n) {
    gradin_vec2 sum = {0.0, 0.0};
    for (int i = 0; i < n; i++) {
        gradin_vec2 unit = gradin_bearing_unit(seat[i].facing_deg);
        sum.x += unit.x / n;
        sum.y += unit.y / n;
    }
    return sum;
}

/* The rows of a block from the front to the back; their count, 0 when out of memory. */
static int find_rows(complaints *c, const gradin_listed_seat *seat, int n, found_row **out) {
    int n_row = 0;
    found_row *row = alloc(c, n, sizeof *row);
    gradin_vec2 way = common_way(seat, n);
    for (int i = 0; row && i < n; i++) {
        found_row *mine = row_of(row, &n_row, seat[i].row_label);
        mine->sum_m.x += seat[i].at_m.x;
        mine->sum_m.y += seat[i].at_m.y;
        mine->n++;
    }
    bool is_common = hypot(way.x, way.y) > LEAST_COMMON;
    for (int i = 0; i < n_row; i++)
        row[i].ahead_m =
            is_common ? (row[i].sum_m.x * way.x + row[i].sum_m.y * way.y) / row[i].n : 0.0;
    if (n_row > 0) qsort(row, (size_t)n_row, sizeof *row, front_first);
    *out = row;
    return n_row;
}

/* Seats row by row from the front, in the order of the file within each; a label that is no number
 * counts as its seat's place in that order. */
static gradin_listed_seat *count_rows(complaints *c, const gradin_listed_seat *seat, int n) {
    found_row *row;
    int n_row = find_rows(c, seat, n, &row), n_made = 0;
    gradin_listed_seat *made = alloc(c, n, sizeof *made);
    for (int k = 0; made && k < n_row; k++)
        for (int i = 0, in_row = 0; i < n; i++) {
            if (strcmp(seat[i].row_label, row[k].label) != 0) continue;
            made[n_made] = seat[i];
            made[n_made].row = k + 1;
            in_row++;
            if (made[n_made].number == 0) made[n_made].number = in_row;
            n_made++;
        }
    return made;
}

/* The rows of the file that belong to the block of row `first`, in a list of their own. */
static gradin_listed_seat *seats_of(reader *r, const list_rows *rows, int first, int *n) {
    const list_row *one = &rows->row[first];
    gradin_listed_seat *seat = alloc(&r->c, rows->n - first, sizeof *seat);
    *n = 0;
    for (int i = first; seat && i < rows->n; i++) {
        const list_row *row = &rows->row[i];
        if (one->block && strcmp(row->block, one->block) != 0) continue;
        seat[(*n)++] = row->seat;
        if (!one->level || strcmp(row->level, one->level) == 0) continue;
        refuse(&r->c, &(gradin_place){.file = rows->path, .line = row->line, .column = 1},
               "%s has the level '%s' here and '%s' on line %d: a block has one level",
               one->block ? one->block : "the block", row->level, one->level, one->line);
        return seat;
    }
    return seat;
}

static gradin_block block_of(reader *r, const stated_seat_list *s, const gradin_venue *v,
                             const list_row *first) {
    gradin_block b = gradin_block_defaults();
    b.name = first->block ? first->block : s->name;
    b.at = &s->at->place;
    b.level = first->level ? first->level : s->level;
    b.on = (gradin_support)s->on;
    b.rows = GRADIN_ROWS_LISTED;
    b.seat_width_m = s->seat_width_m;
    b.seat_depth_m = s->seat_depth_m;
    b.row_depth_m = s->row_depth_m;
    b.base_m = s->base_m;
    b.platform_kn_m2 = s->platform_kn_m2;
    b.list_file = s->file;
    b.source = s;
    if (s->seating)
        b.seating = look_up(r, map_get(s->at, "seating"), "seating", v->crew.seating,
                            v->crew.n_seating, sizeof *v->crew.seating);
    return b;
}

static bool is_first_of(const list_rows *rows, int index) {
    const char *block = rows->row[index].block;
    for (int i = 0; i < index; i++)
        if (!block || strcmp(rows->row[i].block, block) == 0) return false;
    return true;
}

/* Blocks to come after those of the layout. */
typedef struct block_list {
    gradin_block *block;
    int n, capacity;
} block_list;

static bool add_blocks(reader *r, const stated_seat_list *s, const gradin_venue *v,
                       const list_rows *rows, block_list *list) {
    for (int i = 0; i < rows->n; i++) {
        if (!is_first_of(rows, i)) continue;
        int n;
        gradin_listed_seat *seat = seats_of(r, rows, i, &n);
        if (!seat ||
            !grow(&r->c, (void **)&list->block, list->n, &list->capacity, sizeof *list->block))
            return false;
        gradin_block *b = &list->block[list->n++];
        *b = block_of(r, s, v, &rows->row[i]);
        b->listed = count_rows(&r->c, seat, n);
        b->n_listed = n;
    }
    return true;
}

static bool has_block(const list_rows *rows, const char *name) {
    for (int i = 0; i < rows->n; i++)
        if (strcmp(rows->row[i].block, name) == 0) return true;
    return false;
}

/* Blocks that are asked for and not there. */
static void check_only(reader *r, const stated_seat_list *s, const list_rows *rows) {
    const node *at = map_get(s->at, "only");
    for (int i = 0; at && i < s->n_only; i++)
        if (!has_block(rows, s->only[i]))
            complain(r, at->child[i], "'%s' is no block of %s", s->only[i], rows->path);
}

/* What the keys of a list have to do with each other. */
static bool check_list(reader *r, const stated_seat_list *s) {
    const stated_columns *c = &s->columns;
    int before = r->c.n_error;
    bool has_height = c->floor || c->eye;
    int n_facing = (c->facing != NULL) + !isnan(s->faces_m.x) + !isnan(s->facing_deg);
    if (n_facing != 1) complain(r, s->at, "needs exactly one of columns.facing, faces, facing_deg");
    if ((c->block != NULL) == (s->name != NULL))
        complain(r, s->at, "needs exactly one of columns.block, name");
    if (c->level && s->level)
        complain(r, s->at, "has a column level and a level for all: one of the two is needed");
    if (has_height && map_get(s->at, "base"))
        complain_key(r, s->at, "base", "cannot stand beside a column of heights");
    if (s->on == GRADIN_SUPPORT_LIFTS && (has_height || map_get(s->at, "base")))
        complain(r, s->at, "stands on lifts: their treads give the heights");
    if (s->n_only > 0 && !c->block)
        complain_key(r, s->at, "only", "goes with a column of blocks (columns.block)");
    if (!c->kind && s->kinds.at)
        complain_key(r, s->at, "kinds", "goes with a column of kinds (columns.kind)");
    return r->c.n_error == before;
}

static bool fill_list(reader *r, const stated_seat_list *s, const gradin_venue *v,
                      const gradin_audience *audience, block_list *list) {
    list_rows rows;
    int before = r->c.n_error;
    if (!s->at || !check_list(r, s)) return true;
    const node *at = map_get(s->at, "file");
    if (!list_read(r, at, s, false, audience, &rows) || r->c.n_error > before) return true;
    check_only(r, s, &rows);
    if (rows.n == 0 && s->n_only == 0) complain(r, at, "%s has no seat", rows.path);
    return r->c.n_error > before || add_blocks(r, s, v, &rows, list);
}

void fill_imported(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p) {
    block_list list = {0};
    for (int i = 0; i < p->n_block; i++) {
        if (!grow(&r->c, (void **)&list.block, list.n, &list.capacity, sizeof *list.block)) return;
        list.block[list.n++] = p->block[i];
    }
    for (int i = 0; i < s->n_seat_list; i++)
        if (!fill_list(r, &s->seat_list[i], v, &s->audience, &list)) return;
    p->block = list.block;
    p->n_block = list.n;
}

static void read_plain(reader *r, const node *at, gradin_block *b) {
    list_rows rows;
    if (!list_read(r, at, NULL, true, NULL, &rows)) return;
    gradin_listed_seat *seat = rows.n > 0 ? alloc(&r->c, rows.n, sizeof *seat) : NULL;
    for (int i = 0; seat && i < rows.n; i++) seat[i] = rows.row[i].seat;
    b->listed = seat;
    b->n_listed = seat ? rows.n : 0;
}

void fill_seat_lists(reader *r, const stated_layout *s, gradin_layout *p) {
    gradin_block *block = p->n_block > 0 ? alloc(&r->c, p->n_block, sizeof *block) : NULL;
    if (!block) return;
    for (int i = 0; i < p->n_block; i++) {
        block[i] = p->block[i];
        if (i < s->n_block && block[i].rows == GRADIN_ROWS_LISTED)
            read_plain(r, map_get(s->block[i].at, "file"), &block[i]);
    }
    p->block = block;
}
