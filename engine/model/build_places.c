/* Places of the blocks: straight and curved rows, rows that fill lift treads. Places that an aisle
 * or an open floor panel touches are left out. */
#include "model/build.h"

#include <stdlib.h>
#include <string.h>

static gradin_seat_kind kind_of(const gradin_block *from, int number) {
    int n = from->n_pattern > 0 ? from->n_pattern : 1; /* a zeroed pattern is one seat */
    return from->pattern[(number - 1) % n];
}

static double row_depth_m(const gradin_block *from, int row) {
    return from->depth_m ? from->depth_m[row] : from->row_depth_m;
}

/* One riser for all lies between rows, a slope under their middles: the first stands on the base.
 */
static double row_rise_m(const gradin_block *from, int row) {
    if (row > 0 && from->slope > 0.0)
        return from->slope * (row_depth_m(from, row - 1) + row_depth_m(from, row)) / 2.0;
    if (from->rise_m) return from->rise_m[row];
    return row > 0 ? from->riser_m : 0.0;
}

static double shift_of(const gradin_block *from, int row) {
    return row % 2 == 1 ? from->stagger * from->seat_width_m : 0.0;
}

static bool place_straight_row(builder *b, int index, const gradin_block *from, int row,
                               double back_m, double z_m) {
    gradin_vec2 middle_m = point_along_m(from->front_m, from->facing_deg, -back_m);
    int n = from->row_seat ? from->row_seat[row] : from->n_seat;
    for (int i = 0; i < n; i++) {
        double side_m = (i - (n - 1) / 2.0) * from->seat_width_m + shift_of(from, row);
        place p = {.block = index,
                   .row = row + 1,
                   .number = i + 1,
                   .kind = kind_of(from, i + 1),
                   .at_m = point_along_m(middle_m, from->facing_deg + 90.0, side_m),
                   .z_m = z_m,
                   .facing_deg = gradin_wrap_360_deg(from->facing_deg),
                   .width_m = from->seat_width_m,
                   .depth_m = row_depth_m(from, row),
                   .deck = -1};
        if (!add_place(b, p)) return false;
    }
    return true;
}

int arc_holds(const gradin_block *from, int row, double radius_m) {
    double arc_deg = from->arc_deg[1] - from->arc_deg[0];
    double span_m = gradin_rad(arc_deg) * radius_m;
    double lost_m = arc_deg >= 360.0 - 1e-9 ? 0.0 : fabs(shift_of(from, row));
    return (int)floor((span_m - lost_m) / from->seat_width_m + 1e-9);
}

/* Seats along an arc, numbered from the left hand of people who face the centre: clockwise bearings
 * run to the right as the centre sees it, so to the left for them. */
static bool place_curved_row(builder *b, int index, const gradin_block *from, int row,
                             double back_m, double z_m) {
    double radius_m = from->radius_m + back_m;
    int n = arc_holds(from, row, radius_m),
        wanted = from->row_seat ? from->row_seat[row] : from->n_seat;
    if (wanted > 0 && wanted < n) n = wanted;
    double middle_deg = (from->arc_deg[0] + from->arc_deg[1]) / 2.0;
    for (int i = 0; i < n; i++) {
        double along_m = ((n - 1) / 2.0 - i) * from->seat_width_m + shift_of(from, row) / 2.0;
        double bearing_deg = middle_deg + gradin_deg(along_m / radius_m);
        place p = {.block = index,
                   .row = row + 1,
                   .number = i + 1,
                   .kind = kind_of(from, i + 1),
                   .at_m = point_along_m(from->front_m, bearing_deg, radius_m),
                   .z_m = z_m,
                   .facing_deg = gradin_wrap_360_deg(bearing_deg + 180.0),
                   .width_m = from->seat_width_m,
                   .depth_m = row_depth_m(from, row),
                   .deck = -1};
        if (!add_place(b, p)) return false;
    }
    return true;
}

double row_back_m(const gradin_block *from, int row) {
    double back_m = 0.0;
    for (int i = 1; i <= row; i++)
        back_m += (row_depth_m(from, i - 1) + row_depth_m(from, i)) / 2.0;
    return back_m;
}

static bool place_rows(builder *b, int index, const gradin_block *from) {
    double z_m = from->base_m;
    for (int row = 0; row < from->n_row; row++) {
        double back_m = row_back_m(from, row);
        z_m += row_rise_m(from, row);
        bool good = from->rows == GRADIN_ROWS_CURVED
                        ? place_curved_row(b, index, from, row, back_m, z_m)
                        : place_straight_row(b, index, from, row, back_m, z_m);
        if (!good) return false;
    }
    return true;
}

static bool fill_tread(builder *b, int index, const gradin_block *from, int section, int tread,
                       double facing_deg) {
    const gradin_setting *set = section_set(b, section);
    gradin_vec2 corner_m[4];
    gradin_tread_corners(&b->v->section[section], set, tread, corner_m);
    gradin_polygon rectangle = {corner_m, 4};
    gradin_vec2 centre_m = gradin_polygon_centroid_m(rectangle),
                unit = gradin_bearing_unit(facing_deg);
    double depth_m = 0.0, width_m = 0.0;
    for (int i = 0; i < 4; i++) {
        double dx = corner_m[i].x - centre_m.x, dy = corner_m[i].y - centre_m.y;
        depth_m = fmax(depth_m, 2.0 * fabs(dx * unit.x + dy * unit.y));
        width_m = fmax(width_m, 2.0 * fabs(dx * unit.y - dy * unit.x));
    }
    int n_row = (int)floor(depth_m / from->row_depth_m + 1e-6);
    int n = (int)floor(width_m / from->seat_width_m + 1e-6);
    for (int row = 0; row < n_row; row++)
        for (int i = 0; i < n; i++) {
            double ahead_m = depth_m / 2.0 - (row + 0.5) * depth_m / n_row;
            double side_m = (i - (n - 1) / 2.0) * from->seat_width_m;
            place p = {.block = index,
                       .at_m = point_along_m(point_along_m(centre_m, facing_deg, ahead_m),
                                             facing_deg + 90.0, side_m),
                       .z_m = set->position + tread * set->riser_m,
                       .facing_deg = facing_deg,
                       .width_m = from->seat_width_m,
                       .depth_m = depth_m / n_row,
                       .deck = -1};
            if (!add_place(b, p)) return false;
        }
    return true;
}

bool is_filled(const builder *b, const gradin_block *from, int section) {
    const gradin_lift_section *s = &b->v->section[section];
    const gradin_lift_section *first = &b->v->section[from->from_section];
    const gradin_lift_section *last = &b->v->section[from->to_section];
    return s->grid == first->grid && s->column >= first->column && s->column <= last->column &&
           s->row >= first->row && s->row <= last->row;
}

fill_facing fill_facing_of(const builder *b, const gradin_block *from) {
    double facing_deg = from->facing_deg;
    for (int i = 0; i < b->v->n_section; i++) {
        const gradin_setting *set = section_set(b, i);
        if (!is_filled(b, from, i) || set->n_step == 1) continue;
        if (isnan(facing_deg)) facing_deg = set->facing_deg;
        if (facing_deg != set->facing_deg) return (fill_facing){NAN, i, facing_deg, true};
    }
    bool is_side =
        !isnan(facing_deg) && gradin_grid_quarter(b->v->section[from->from_section].bearing_deg,
                                                  gradin_wrap_360_deg(facing_deg)) >= 0;
    return (fill_facing){is_side ? gradin_wrap_360_deg(facing_deg) : NAN, -1, facing_deg,
                         !isnan(facing_deg)};
}

/* Rows are counted from the front and seats from the left over the whole block: places that stand
 * within ROW_GAP_M of each other along the facing are one row. */
static const double ROW_GAP_M = 0.05;

static double ahead_of(const place *p) {
    gradin_vec2 unit = gradin_bearing_unit(p->facing_deg);
    return p->at_m.x * unit.x + p->at_m.y * unit.y;
}

static double right_of(const place *p) {
    gradin_vec2 unit = gradin_bearing_unit(p->facing_deg + 90.0);
    return p->at_m.x * unit.x + p->at_m.y * unit.y;
}

static int front_first(const void *a, const void *b) {
    double difference = ahead_of(b) - ahead_of(a);
    return (difference > 0.0) - (difference < 0.0);
}

static int left_first(const void *a, const void *b) {
    double difference = right_of(a) - right_of(b);
    return (difference > 0.0) - (difference < 0.0);
}

static void number_row(place *row, int n, int row_number, const gradin_block *from) {
    qsort(row, (size_t)n, sizeof *row, left_first);
    double shift_m = shift_of(from, row_number - 1);
    for (int i = 0; i < n; i++) {
        row[i].row = row_number;
        row[i].number = i + 1;
        row[i].kind = kind_of(from, i + 1);
        row[i].at_m = point_along_m(row[i].at_m, row[i].facing_deg + 90.0, shift_m);
    }
}

static void number_fill(place *first, int n, const gradin_block *from) {
    qsort(first, (size_t)n, sizeof *first, front_first);
    int row_number = 0;
    for (int start = 0, end; start < n; start = end) {
        for (end = start + 1;
             end < n && ahead_of(&first[start]) - ahead_of(&first[end]) < ROW_GAP_M;)
            end++;
        number_row(&first[start], end - start, ++row_number, from);
    }
}

/* Nothing when its sections do not face one way. */
static bool place_fill(builder *b, int index, const gradin_block *from) {
    double facing_deg = fill_facing_of(b, from).deg;
    int first = b->n_place;
    if (isnan(facing_deg)) return true;
    for (int i = 0; i < b->v->n_section; i++)
        for (int tread = 0; is_filled(b, from, i) && tread < section_set(b, i)->n_step; tread++)
            if (!fill_tread(b, index, from, i, tread, facing_deg)) return false;
    if (b->n_place > first) number_fill(&b->place[first], b->n_place - first, from);
    return true;
}

static bool place_listed(builder *b, int index, const gradin_block *from) {
    for (int i = 0; i < from->n_listed; i++) {
        const gradin_listed_seat *seat = &from->listed[i];
        place p = {.block = index,
                   .row = seat->row,
                   .number = seat->number,
                   .row_label = seat->row_label,
                   .seat_label = seat->seat_label,
                   .kind = seat->kind,
                   .at_m = seat->at_m,
                   .z_m = from->base_m + seat->rise_m,
                   .facing_deg = gradin_wrap_360_deg(seat->facing_deg),
                   .width_m = from->seat_width_m,
                   .depth_m = from->row_depth_m,
                   .deck = -1};
        if (!add_place(b, p)) return false;
    }
    return true;
}

/* What a slab carries well above the floor stays when a panel of the floor opens. */
static const double CARRIED_M = 2.0;

static bool is_carried(const builder *b, const place *p) {
    return b->p->block[p->block].on == GRADIN_SUPPORT_FLOOR &&
           ground_below_m(b, p) >= fixed_floor_m(b, p->at_m) + CARRIED_M - 1e-6;
}

static bool is_over_vomitory(const builder *b, const place *p) {
    gradin_vec2 corner_m[4];
    if (is_carried(b, p)) return false;
    place_corners(p, p->depth_m < BODY_DEPTH_M ? p->depth_m : BODY_DEPTH_M, corner_m);
    for (int i = 0; i < b->v->n_panel; i++)
        if (is_open(b, i) &&
            gradin_polygon_overlap((gradin_polygon){corner_m, 4}, b->v->panel[i].polygon, 0.02))
            return true;
    return false;
}

bool is_in_headroom(const builder *b, const place *p, double bottom_m, const gradin_passage *way) {
    gradin_vec2 corner_m[4];
    if (bottom_m >= fixed_floor_m(b, p->at_m) + way->headroom_m - 1e-6) return false;
    place_corners(p, p->depth_m, corner_m);
    return gradin_polygon_overlap((gradin_polygon){corner_m, 4}, way->polygon, 0.02);
}

/* No seat where a passage needs the height; a row on a slab that high is over it anyway. */
static bool is_in_way(const builder *b, const place *p, const gradin_passage *way) {
    double bottom_m, cover_m = p->z_m - way->cover_m;
    if (platform_below(b, p, &bottom_m) && !is_in_headroom(b, p, bottom_m, way)) return false;
    return is_in_headroom(b, p, cover_m, way);
}

static bool is_in_passage(const builder *b, const place *p) {
    for (int i = 0; i < b->p->n_passage; i++)
        if (is_in_way(b, p, &b->p->passage[i])) return true;
    return false;
}

static bool is_cut(const builder *b, const place *p) {
    return p->deck < 0 && (is_in_aisle(b, p) || is_over_vomitory(b, p) || is_in_passage(b, p));
}

static void cut_places(builder *b) {
    int n_left = 0;
    for (int i = 0; i < b->n_place; i++)
        if (!is_cut(b, &b->place[i])) b->place[n_left++] = b->place[i];
    b->n_place = n_left;
}

/* What stands on lifts stands on the highest tread under it. */
static void rest_on_lifts(builder *b) {
    for (int i = 0; i < b->n_place; i++) {
        place *p = &b->place[i];
        if (p->deck < 0 && b->p->block[p->block].on == GRADIN_SUPPORT_LIFTS)
            p->z_m = footing_of(b, p).most_m;
    }
}

/* Do rows go up and down with the floor, or begin on it and rise as the block says? */
static bool follows_floor(const gradin_block *from) {
    bool rises = from->slope > 0.0 || (!from->rise_m && from->riser_m > 0.0);
    for (int i = 0; from->rise_m && i < from->n_row; i++) rises = rises || from->rise_m[i] > 0.0;
    return !rises;
}

static gradin_vec2 first_row_m(const gradin_block *from) {
    if (from->rows != GRADIN_ROWS_CURVED) return from->front_m;
    return point_along_m(from->front_m, (from->arc_deg[0] + from->arc_deg[1]) / 2.0,
                         from->radius_m);
}

/* Blocks without a base of their own stand on the fixed floor where it is not at 0: place by place,
 * or all by the floor under the middle of their first row. */
static void rest_on_floor(builder *b) {
    for (int i = 0; b->v->n_floor > 0 && i < b->n_place; i++) {
        place *p = &b->place[i];
        const gradin_block *from = &b->p->block[p->block];
        if (from->on != GRADIN_SUPPORT_FLOOR || from->base_m != 0.0) continue;
        if (from->rows == GRADIN_ROWS_LISTED ? p->z_m == 0.0 : follows_floor(from))
            p->z_m = fixed_floor_m(b, p->at_m);
        else if (from->rows != GRADIN_ROWS_LISTED)
            p->z_m += fixed_floor_m(b, first_row_m(from));
    }
}

/* Rows trimmed to the room's walls, or to a fan: two lines from one point. */
bool place_is_in_room(const builder *b, const place *p) {
    gradin_vec2 corner_m[4];
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), corner_m);
    for (int i = 0; i < 4; i++)
        if (!gradin_polygon_contains(b->v->footprint, corner_m[i])) return false;
    return true;
}

/* Clockwise from the fan's first line to the point, against clockwise to its last. */
static bool is_in_fan(const gradin_block *from, gradin_vec2 at_m) {
    double bearing_deg = gradin_bearing_deg(at_m.x - from->fan_m.x, at_m.y - from->fan_m.y);
    double span_deg = from->fan_deg[1] - from->fan_deg[0];
    return gradin_wrap_360_deg(bearing_deg - from->fan_deg[0] + 1e-9) <= span_deg + 2e-9;
}

static bool is_place_in_fan(const gradin_block *from, const place *p) {
    gradin_vec2 corner_m[4];
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), corner_m);
    for (int i = 0; i < 4; i++)
        if (!is_in_fan(from, corner_m[i])) return false;
    return true;
}

static void trim_places(builder *b, int first, const gradin_block *from) {
    int n_left = first;
    for (int i = first; i < b->n_place; i++) {
        const place *p = &b->place[i];
        bool is_out = (from->is_trimmed_to_room && !place_is_in_room(b, p)) ||
                      (from->has_fan && !is_place_in_fan(from, p));
        if (!is_out) b->place[n_left++] = *p;
    }
    b->n_place = n_left;
}

static bool place_block(builder *b, int index, const gradin_block *from) {
    switch (from->rows) {
    case GRADIN_ROWS_FILL:
        return place_fill(b, index, from);
    case GRADIN_ROWS_LISTED:
        return place_listed(b, index, from);
    default:
        return place_rows(b, index, from);
    }
}

bool build_places(builder *b) {
    b->full_block = -1;
    b->n_laid = alloc(b->c, b->p->n_block, sizeof *b->n_laid);
    if (!b->n_laid) return false;
    for (int i = 0; i < b->p->n_block; i++) {
        const gradin_block *from = &b->p->block[i];
        int index = add_block_name(b, from->name, from->at);
        int first = b->n_place;
        if (index < 0 || !place_block(b, index, from)) return false;
        for (int k = first; k < b->n_place; k++) b->place[k].level = from->level;
        trim_places(b, first, from);
    }
    rest_on_lifts(b);
    rest_on_floor(b);
    if (!build_levels(b) || !build_aisle_sheets(b) || !build_deck_places(b)) return false;
    cut_places(b);
    return true;
}
