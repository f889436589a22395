/* Rays to pixels: where different things meet, the mean of the fine rays; the nearer of two things
 * gets a dark rim, so that heads and rails stand off what is behind. */
#include "render/view/view_paint.h"

/* Parts that run into each other without a rim. */
static bool is_round(const gradin_view_sample *s) {
    return s->thing == GRADIN_VIEW_FIGURE || s->thing == GRADIN_VIEW_HEAD ||
           s->thing == GRADIN_VIEW_NECK || s->thing == GRADIN_VIEW_SHOULDERS;
}

static bool is_cloth(const gradin_view_sample *s) {
    return s->thing == GRADIN_VIEW_SHOULDERS || s->thing == GRADIN_VIEW_CHEST;
}

static bool is_same(const gradin_view_sample *a, const gradin_view_sample *b) {
    double cosine = 0.0;
    for (int i = 0; i < 3; i++) cosine += (double)a->normal[i] * (double)b->normal[i];
    if (is_cloth(a) && is_cloth(b) && a->what == b->what) return true;
    if (a->thing == GRADIN_VIEW_FOCUS && b->thing == GRADIN_VIEW_FOCUS) return true;
    return a->thing == b->thing && a->what == b->what && (cosine > 0.7 || is_round(a));
}

/* 0 .. 1 of the rim against a neighbour; where two surfaces meet, the one on the left or above has
 * it. */
static double rim_against(const gradin_view_sample *s, const gradin_view_sample *other,
                          bool is_after) {
    if (is_same(s, other)) return 0.0;
    double mine = (double)s->distance_m, its = (double)other->distance_m;
    if (mine < 0.985 * its) return 0.50;
    return is_after && its > 0.985 * mine ? 0.25 : 0.0;
}

static double rim_of(const gradin_view *v, int x, int y) {
    const gradin_view_sample *s = v->sample + (size_t)y * (size_t)v->width_px + (size_t)x;
    double rim = 0.0;
    if (x > 0) rim = fmax(rim, rim_against(s, s - 1, false));
    if (x + 1 < v->width_px) rim = fmax(rim, rim_against(s, s + 1, true));
    if (y > 0) rim = fmax(rim, rim_against(s, s - v->width_px, false));
    if (y + 1 < v->height_px) rim = fmax(rim, rim_against(s, s + v->width_px, true));
    return rim / (1.0 + fmin((double)s->distance_m, 200.0) / 60.0);
}

static colour mean_of(const gradin_view *v, int fine, int x, int y) {
    colour sum = {0.0, 0.0, 0.0};
    for (int k = 0; k < GRADIN_VIEW_FINE; k++) {
        gradin_vec2 at = gradin_view_fine_at(k);
        colour c = view_shade(v, &v->fine[fine * GRADIN_VIEW_FINE + k], x + at.x, y + at.y);
        sum = (colour){sum.r + c.r, sum.g + c.g, sum.b + c.b};
    }
    return (colour){sum.r / GRADIN_VIEW_FINE, sum.g / GRADIN_VIEW_FINE, sum.b / GRADIN_VIEW_FINE};
}

static uint32_t packed(colour c, double rim) {
    double keep = 255.0 * (1.0 - rim);
    return 0xff000000u | (uint32_t)(c.r * keep + 0.5) << 16 | (uint32_t)(c.g * keep + 0.5) << 8 |
           (uint32_t)(c.b * keep + 0.5);
}

static uint32_t *pixels_of(gradin_arena *scratch, const gradin_view *v) {
    size_t n = (size_t)v->width_px * (size_t)v->height_px;
    uint32_t *pixel = gradin_arena_alloc(scratch, n, sizeof *pixel);
    int fine = 0;
    for (int y = 0; pixel && y < v->height_px; y++)
        for (int x = 0; x < v->width_px; x++) {
            int i = y * v->width_px + x;
            bool is_fine = fine < v->n_fine && v->fine_pixel[fine] == i;
            colour c =
                is_fine ? mean_of(v, fine, x, y) : view_shade(v, &v->sample[i], x + 0.5, y + 0.5);
            pixel[i] = packed(c, is_fine ? rim_of(v, x, y) : 0.0);
            fine += is_fine;
        }
    return pixel;
}

bool view_paint(canvas *page, gradin_arena *scratch, const gradin_view *v, double left, double top,
                double pixel) {
    uint32_t *pixels = pixels_of(scratch, v);
    if (!pixels) return false;
    cairo_surface_t *picture = cairo_image_surface_create_for_data(
        (unsigned char *)pixels, CAIRO_FORMAT_RGB24, v->width_px, v->height_px, 4 * v->width_px);
    cairo_save(page->cr);
    cairo_translate(page->cr, left, top);
    cairo_scale(page->cr, pixel, pixel);
    cairo_set_source_surface(page->cr, picture, 0.0, 0.0);
    cairo_pattern_set_filter(cairo_get_source(page->cr), CAIRO_FILTER_BILINEAR);
    cairo_paint(page->cr);
    cairo_restore(page->cr);
    cairo_surface_destroy(picture);
    return true;
}

void view_swatch(canvas *page, double left, double top, double width, double height) {
    cairo_rectangle(page->cr, left, top, width, height);
    canvas_fill_keep(page, (colour){0.55, 0.48, 0.43});
    canvas_hatch(page, COLOUR_WHITE, 7.0, 14.0);
    canvas_hatch(page, (colour){0.45, 0.0, 0.32}, 3.4, 14.0);
    canvas_stroke(page, COLOUR_INK, 1.0);
}
