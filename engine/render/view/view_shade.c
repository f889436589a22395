/* Flat colours with light from above and from one side, paler with distance, squares on the floors
 * of the focus, and the hatch of what is hidden. */
#include "render/view/view_paint.h"

static const colour base[GRADIN_N_VIEW_THING] = {
    [GRADIN_VIEW_NOTHING] = {0.93, 0.94, 0.95}, [GRADIN_VIEW_FLOOR] = {0.66, 0.64, 0.61},
    [GRADIN_VIEW_CEILING] = {0.80, 0.81, 0.83}, [GRADIN_VIEW_WALL] = {0.84, 0.83, 0.81},
    [GRADIN_VIEW_GLASS] = {0.72, 0.85, 0.94},   [GRADIN_VIEW_SHADE] = {0.42, 0.44, 0.50},
    [GRADIN_VIEW_DOOR] = {0.62, 0.50, 0.40},    [GRADIN_VIEW_FOCUS] = {1.00, 0.95, 0.78},
    [GRADIN_VIEW_FIGURE] = {0.16, 0.27, 0.50},  [GRADIN_VIEW_CHAIR] = {0.36, 0.37, 0.42},
    [GRADIN_VIEW_HEAD] = {0.40, 0.32, 0.26},    [GRADIN_VIEW_NECK] = {0.76, 0.62, 0.53},
    [GRADIN_VIEW_RAIL] = {0.46, 0.14, 0.13},    [GRADIN_VIEW_PANEL] = {0.62, 0.47, 0.45},
    [GRADIN_VIEW_POINT] = {0.95, 0.75, 0.15},   [GRADIN_VIEW_STRUCTURE] = {0.70, 0.70, 0.73},
    [GRADIN_VIEW_ARCH] = {0.47, 0.48, 0.55}};
static const colour haze = {0.88, 0.90, 0.92};
static const colour sheer = {0.99, 0.93, 0.66};
static const colour hatch_light = {1.0, 1.0, 1.0}, hatch_dark = {0.45, 0.0, 0.32};
static const double haze_m = 70.0;  /* distance at which most of the colour is gone */
static const double line_m = 0.025; /* width of the lines of the squares */

static colour mix(colour a, colour b, double share) {
    return (colour){a.r + share * (b.r - a.r), a.g + share * (b.g - a.g),
                    a.b + share * (b.b - a.b)};
}

static colour times(colour c, double factor) {
    return (colour){fmin(c.r * factor, 1.0), fmin(c.g * factor, 1.0), fmin(c.b * factor, 1.0)};
}

/* Neighbours in one row differ a little, so that one head is told from the next. */
static double variety(int what) {
    uint32_t h = (uint32_t)what * 2654435761u;
    return 0.90 + 0.20 * (double)(h >> 16 & 0xffu) / 255.0;
}

static colour colour_of(const gradin_view_sample *s) {
    static const colour cloth[] = {{0.47, 0.53, 0.61},
                                   {0.58, 0.52, 0.47},
                                   {0.50, 0.56, 0.49},
                                   {0.60, 0.50, 0.53},
                                   {0.54, 0.55, 0.60}};
    bool is_cloth = s->thing == GRADIN_VIEW_SHOULDERS || s->thing == GRADIN_VIEW_CHEST;
    colour c = is_cloth ? cloth[((uint32_t)s->what * 2654435761u >> 8) % 5u] : base[s->thing];
    return is_cloth || s->thing == GRADIN_VIEW_HEAD ? times(c, variety(s->what)) : c;
}

static double light(const gradin_view_sample *s) {
    if (s->thing == GRADIN_VIEW_FOCUS) return 1.0;
    const double sun[3] = {-0.42, -0.55, 0.72};
    double along = 0.0;
    for (int i = 0; i < 3; i++) along += sun[i] * (double)s->normal[i];
    double facing = fabs(0.85 * (double)s->normal[0] - 0.53 * (double)s->normal[1]);
    return 0.74 + 0.22 * fmax(along, 0.0) + 0.08 * facing * (1.0 - fabs((double)s->normal[2]));
}

/* Part of a pixel's width `wide_m` that lines one square apart cover at `at_m`. */
static double lined(double at_m, double wide_m) {
    double line = fmax(line_m, 0.9 * wide_m);
    double off = fabs(at_m - GRADIN_VIEW_SQUARE_M * floor(at_m / GRADIN_VIEW_SQUARE_M + 0.5));
    double covered = 0.5 * (line + wide_m) - off;
    covered = fmin(fmax(covered, 0.0), fmin(line, wide_m)) / fmax(wide_m, 1e-9);
    return covered * fmin(fmax(1.4 - 3.0 * wide_m, 0.0), 1.0);
}

/* How far the point of the floor moves when the ray moves by a pixel along `turn`. */
static gradin_vec3 moved(const gradin_view_sample *s, gradin_vec3 way, gradin_vec3 turn) {
    gradin_vec3 n = {(double)s->normal[0], (double)s->normal[1], (double)s->normal[2]};
    double share = gradin_dot(n, turn) / gradin_dot(n, way);
    return gradin_scale(gradin_sub(turn, gradin_scale(way, share)), (double)s->distance_m);
}

static double squares(const gradin_view *v, const gradin_view_sample *s, double x, double y) {
    gradin_vec3 way = gradin_view_way(v, x, y);
    gradin_vec3 at = gradin_add(v->eye_m, gradin_scale(way, (double)s->distance_m));
    gradin_vec3 across = moved(s, way, gradin_sub(gradin_view_way(v, x + 1.0, y), way));
    gradin_vec3 down = moved(s, way, gradin_sub(gradin_view_way(v, x, y + 1.0), way));
    gradin_vec2 o = v->square_origin_m[s->what], u = v->square_along[s->what];
    double along_m = (at.x - o.x) * u.x + (at.y - o.y) * u.y;
    double aside_m = (at.y - o.y) * u.x - (at.x - o.x) * u.y;
    double along_wide = hypot(across.x * u.x + across.y * u.y, down.x * u.x + down.y * u.y);
    double aside_wide = hypot(across.y * u.x - across.x * u.y, down.y * u.x - down.x * u.y);
    return fmax(lined(along_m, along_wide), lined(aside_m, aside_wide));
}

static colour hatched(const gradin_view *v, colour c, double x, double y) {
    double unit = fmax(v->width_px / 640.0, 0.75), at = fmod(x + y, 9.0 * unit) / unit;
    return at < 2.2 ? hatch_dark : at < 4.4 ? hatch_light : c;
}

colour view_shade(const gradin_view *v, const gradin_view_sample *s, double x, double y) {
    if (s->thing == GRADIN_VIEW_NOTHING) return base[GRADIN_VIEW_NOTHING];
    colour c = times(colour_of(s), light(s));
    if (s->thing == GRADIN_VIEW_FOCUS)
        c = mix(c, (colour){0.45, 0.36, 0.22}, 0.6 * squares(v, s, x, y));
    c = mix(c, haze,
            s->thing == GRADIN_VIEW_FOCUS ? 0.0 : 1.0 - exp(-(double)s->distance_m / haze_m));
    if (s->is_sheer) c = mix(c, sheer, 0.45);
    return s->is_hidden ? hatched(v, c, x, y) : c;
}
