/* Regular samples over a plan polygon: centres of a square grid, centred on the bounding box, that
 * lie inside. Rows are swept by even-odd crossings; both ends of an inside stretch count, so that a
 * mirrored polygon gets the mirrored samples.
 *
 * Which way the rows run: a shadow's edge that follows a row takes in a whole row of samples or
 * none, and its area errs by half a row. A strip of length L spacings errs in each lattice wave
 * m = (p, q) by about min(1, 1/(pi L |m| sin v))/|m|, v the angle from m to the strip's normal
 * (derived: the Fourier series of a point lattice). The sum of squares over m, at L = 32, is 1.6
 * for rows along the strip. 38 degrees off an edge it is 0.005 for strips along that edge, below
 * 0.015 at 30, 45, 60 and 90 degrees to it, and 0.035 on average over all directions within 30
 * degrees of square to it, where the shadows of heads lie; a turn by 30 degrees has 1.6 in a hall
 * of 30 and 60 degrees, the golden ratio's 0.12. Turns from 34 to 40 degrees are much alike by this
 * measure; among them ASKEW_DEG was picked as the best on the five layouts of the demo's first
 * hall, so their errors flatter it. DEVELOPERS.md has those of halls that were not looked at. */
#include "geometry/plan/plan.h"

#include <stdlib.h>

enum { BISECTIONS = 48, MAX_ROW = 1 << 20 };
#define CLOSED_M 1e-9
#define ASKEW_DEG 38.0
#define RAD (GRADIN_PI / 180.0)
#define SAME_LENGTH 1e-9

typedef struct sweep {
    gradin_polygon polygon;
    gradin_vec2 centre;
    double width, height;
    double *crossing; /* [n_corner] scratch */
} sweep;

static int compare_double(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static int row_crossings(const sweep *s, double y) {
    int n = 0;
    for (int i = 0; i < s->polygon.n_corner; i++) {
        gradin_vec2 a = plan_corner(s->polygon, i), b = plan_corner(s->polygon, i + 1);
        if ((a.y > y) == (b.y > y)) continue;
        s->crossing[n++] = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
    }
    qsort(s->crossing, (size_t)n, sizeof *s->crossing, compare_double);
    return n;
}

/* Counts the grid points of one row; writes them to out from out[written] on unless out is NULL. */
static int sweep_row(const sweep *s, double spacing, double y, int written, gradin_vec2 *out) {
    int n_column = (int)fmax(1.0, ceil(s->width / spacing));
    double first_x = s->centre.x - 0.5 * (n_column - 1) * spacing;
    int n = row_crossings(s, y), count = 0, next = 0;
    for (int k = 0; k + 1 < n; k += 2) {
        double low = ceil((s->crossing[k] - CLOSED_M - first_x) / spacing);
        double high = floor((s->crossing[k + 1] + CLOSED_M - first_x) / spacing);
        int from = (int)fmax(low, next), to = (int)fmin(high, n_column - 1);
        for (int i = from; out && i <= to; i++)
            out[written + count + i - from] = (gradin_vec2){first_x + i * spacing, y};
        if (to < from) continue;
        count += to - from + 1;
        next = to + 1;
    }
    return count;
}

static int sweep_all(const sweep *s, double spacing, gradin_vec2 *out) {
    int n_row = (int)fmax(1.0, ceil(s->height / spacing)), count = 0;
    double first_y = s->centre.y - 0.5 * (n_row - 1) * spacing;
    for (int j = 0; j < n_row; j++)
        count += sweep_row(s, spacing, first_y + j * spacing, count, out);
    return count;
}

/* The coarsest spacing found whose grid has n_wanted samples; 0 when a grid would need more than
 * MAX_ROW rows or columns. */
static double find_spacing(const sweep *s, double area, int n_wanted) {
    double fine = sqrt(area / n_wanted), coarse = 2.0 * fmax(s->width, s->height);
    while (sweep_all(s, fine, NULL) < n_wanted) {
        coarse = fine;
        fine *= 0.7;
        if (!(fmax(s->width, s->height) / fine < MAX_ROW)) return 0.0;
    }
    for (int i = 0; i < BISECTIONS; i++) {
        double middle = 0.5 * (fine + coarse);
        if (sweep_all(s, middle, NULL) >= n_wanted)
            fine = middle;
        else
            coarse = middle;
    }
    return fine;
}

static gradin_vec2 middle_of(gradin_polygon polygon) {
    gradin_box2 box = gradin_polygon_bounds(polygon);
    return (gradin_vec2){0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
}

static sweep sweep_of(gradin_polygon polygon) {
    gradin_box2 box = gradin_polygon_bounds(polygon);
    return (sweep){.polygon = polygon,
                   .centre = middle_of(polygon),
                   .width = box.x_max_m - box.x_min_m,
                   .height = box.y_max_m - box.y_min_m};
}

/* In the grid's own frame, whose origin is the middle: far from the plan's origin nothing is lost.
 */
static gradin_vec2 *turn_corners(gradin_arena *arena, gradin_polygon polygon, gradin_vec2 middle,
                                 gradin_vec2 along) {
    gradin_vec2 *corner = gradin_arena_alloc(arena, (size_t)polygon.n_corner, sizeof *corner);
    for (int i = 0; corner && i < polygon.n_corner; i++)
        corner[i] = plan_into(plan_sub(polygon.corner_m[i], middle), along);
    return corner;
}

static gradin_status lay_grid(gradin_arena *arena, sweep *s, double area, int n_wanted,
                              gradin_vec2 **point, int *n_point) {
    if (!(fmax(s->width, s->height) / sqrt(area / n_wanted) < MAX_ROW)) return GRADIN_BAD_INPUT;
    s->crossing = gradin_arena_alloc(arena, (size_t)s->polygon.n_corner, sizeof *s->crossing);
    if (!s->crossing) return GRADIN_NO_MEMORY;
    double spacing = find_spacing(s, area, n_wanted);
    if (spacing <= 0.0) return GRADIN_BAD_INPUT;
    int count = sweep_all(s, spacing, NULL);
    *point = gradin_arena_alloc(arena, (size_t)count, sizeof **point);
    if (!*point) return GRADIN_NO_MEMORY;
    *n_point = sweep_all(s, spacing, *point);
    return GRADIN_OK;
}

gradin_status gradin_polygon_grid(gradin_arena *arena, gradin_polygon polygon, gradin_vec2 along,
                                  int n_wanted, gradin_vec2 **point_m, int *n_point) {
    double area = polygon.n_corner >= 3 ? gradin_polygon_area_m2(polygon) : 0.0;
    if (!arena || !point_m || !n_point || n_wanted < 1 || !plan_is_unit(along))
        return GRADIN_BAD_USE;
    if (!(area > 0.0) || !isfinite(area)) return GRADIN_BAD_INPUT;
    gradin_vec2 middle = middle_of(polygon), *corner = turn_corners(arena, polygon, middle, along);
    if (!corner) return GRADIN_NO_MEMORY;
    sweep s = sweep_of((gradin_polygon){corner, polygon.n_corner});
    gradin_status status = lay_grid(arena, &s, area, n_wanted, point_m, n_point);
    for (int i = 0; status == GRADIN_OK && i < *n_point; i++)
        (*point_m)[i] = plan_along(plan_out_of((*point_m)[i], along), middle, 1.0);
    return status;
}

gradin_lie gradin_polygon_askew(gradin_polygon polygon) {
    gradin_vec2 longest = {1.0, 0.0};
    double most = 0.0, twice = 0.0;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 a = plan_corner(polygon, i), b = plan_corner(polygon, i + 1);
        gradin_vec2 edge = plan_sub(b, a);
        double length = hypot(edge.x, edge.y);
        twice += plan_cross(plan_sub(a, polygon.corner_m[0]), plan_sub(b, polygon.corner_m[0]));
        if (!(length > most * (1.0 + SAME_LENGTH))) continue;
        most = length;
        longest = (gradin_vec2){edge.x / length, edge.y / length};
    }
    double turn = twice < 0.0 ? -ASKEW_DEG * RAD : ASKEW_DEG * RAD;
    return (gradin_lie){longest, plan_out_of((gradin_vec2){cos(turn), sin(turn)}, longest)};
}
