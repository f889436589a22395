/* Platforms under rows of seats that stand on the floor or a slab but higher: one outline per row,
 * its aisles included, as wide as the row is laid out; one per place where places are listed.
 * People walk on them and can fall off them; what they hide is told with the occluders. */
#include "model/build.h"

static const double ARC_DEG = 5.0; /* longest side of an arc, as seen from its centre */
static const double SECTOR_DEG = 120.0;

static bool add_platform(builder *b, const char *name, gradin_polygon polygon, const place *p) {
    double bottom_m;
    if (!polygon.corner_m || !name) return false;
    if (!platform_below(b, p, &bottom_m)) return true;
    gradin_platform made = {name, polygon, bottom_m, p->z_m};
    if (!grow(b->c, (void **)&b->platform, b->n_platform, &b->platform_capacity, sizeof made))
        return false;
    b->platform[b->n_platform++] = made;
    return true;
}

static double depth_of(const gradin_block *from, int row) {
    return from->depth_m ? from->depth_m[row] : from->row_depth_m;
}

/* Distance of the middle of a row behind that of the first. */
static double back_of(const gradin_block *from, int row) {
    double back_m = 0.0;
    for (int k = 1; k <= row; k++) back_m += (depth_of(from, k - 1) + depth_of(from, k)) / 2.0;
    return back_m;
}

/* Of a row's seats, side by side. */
static double across_m(const gradin_block *from, int row) {
    return (from->row_seat ? from->row_seat[row] : from->n_seat) * from->seat_width_m;
}

static bool add_straight(builder *b, const gradin_block *from, const char *name, const place *p) {
    int row = p->row - 1;
    double shift_m = row % 2 == 1 ? from->stagger * from->seat_width_m : 0.0;
    gradin_vec2 middle_m = point_along_m(from->front_m, from->facing_deg, -back_of(from, row));
    middle_m = point_along_m(middle_m, from->facing_deg + 90.0, shift_m / 2.0);
    return add_platform(b, name,
                        make_rectangle(b->c, middle_m, from->facing_deg, depth_of(from, row),
                                       across_m(from, row) + fabs(shift_m)),
                        p);
}

/* Between two bearings and two radii, the inner arc back to front. */
static gradin_polygon sector(builder *b, const gradin_block *from, double from_deg, double to_deg,
                             double near_m, double far_m) {
    int n = (int)ceil((to_deg - from_deg) / ARC_DEG - 1e-9);
    gradin_vec2 *corner_m = alloc(b->c, 2 * (n + 1), sizeof *corner_m);
    for (int i = 0; corner_m && i <= n; i++) {
        double deg = from_deg + (to_deg - from_deg) * i / n;
        corner_m[i] = point_along_m(from->front_m, deg, far_m);
        corner_m[2 * n + 1 - i] = point_along_m(from->front_m, deg, near_m);
    }
    return (gradin_polygon){corner_m, 2 * (n + 1)};
}

/* A ring is no simple polygon, so an arc is cut into sectors. */
static bool add_curved(builder *b, const gradin_block *from, const char *name, const place *p) {
    int row = p->row - 1;
    double radius_m = from->radius_m + back_of(from, row), half_m = depth_of(from, row) / 2.0;
    double span_deg = from->arc_deg[1] - from->arc_deg[0];
    int n = (int)ceil(span_deg / SECTOR_DEG - 1e-9);
    for (int i = 0; i < n; i++) {
        double low_deg = from->arc_deg[0] + span_deg * i / n, high_deg = low_deg + span_deg / n;
        gradin_polygon outline =
            sector(b, from, low_deg, high_deg, fmax(radius_m - half_m, 0.05), radius_m + half_m);
        if (!add_platform(b, name, outline, p)) return false;
    }
    return true;
}

static bool add_under(builder *b, const gradin_block *from, const place *p) {
    const char *name = print_text(b->c, "%s row %d", from->name, p->row);
    if (!name) return false;
    if (from->rows == GRADIN_ROWS_STRAIGHT) return add_straight(b, from, name, p);
    if (from->rows == GRADIN_ROWS_CURVED) return add_curved(b, from, name, p);
    return add_platform(b, name,
                        make_rectangle(b->c, p->at_m, p->facing_deg, p->depth_m, p->width_m), p);
}

/* Rows by their first place that is left; every place of a list. */
bool build_platforms(builder *b) {
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i], *before = i > 0 ? p - 1 : NULL;
        double bottom_m;
        if (!platform_below(b, p, &bottom_m)) continue;
        const gradin_block *from = &b->p->block[p->block];
        bool is_known = before && before->block == p->block && before->row == p->row &&
                        from->rows != GRADIN_ROWS_LISTED;
        if (!is_known && !add_under(b, from, p)) return false;
    }
    b->model->platform = b->platform;
    b->model->n_platform = b->n_platform;
    return true;
}
