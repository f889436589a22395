/* A picture in 256 colours: what is flat keeps its colour, edges move by little, what shades stays
 * as it is. */
#include "render/draw/encode.h"
#include "unit/render/png_back.h"

#include <criterion/criterion.h>
#include <string.h>

enum { WIDE = 360, HIGH = 300 };

static gradin_arena *arena;
static canvas page;
static png_back png;

static void set_up(void) {
    arena = gradin_arena_create();
    cr_assert_eq(canvas_open_wide(&page, arena, WIDE, HIGH, 1.0, NULL), GRADIN_OK);
}

static void tear_down(void) {
    canvas_close(&page);
    gradin_arena_destroy(arena);
}

TestSuite(palette, .init = set_up, .fini = tear_down);

static void square(double x, double y, double side, colour ink) {
    cairo_rectangle(page.cr, x, y, side, side);
    canvas_fill(&page, ink);
}

static void read_back(void) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    cr_assert_eq(canvas_status(&page, NULL), GRADIN_OK);
    cr_assert_eq(encode_png(arena, arena, &page, NULL, 0, &bytes, &size, NULL), GRADIN_OK);
    cr_assert(png_back_read(arena, bytes, size, &png));
}

static const unsigned char *drawn_at(int x, int y) {
    return page.pixels + (size_t)y * (size_t)page.stride + 4 * (size_t)x;
}

/* Of the picture from what was drawn, in steps of 255, squared. */
static int moved_sq(int x, int y) {
    uint32_t drawn;
    const unsigned char *got = png_back_pixel(&png, x, y);
    memcpy(&drawn, drawn_at(x, y), sizeof drawn);
    int red = (int)(drawn >> 16 & 255) - got[0], green = (int)(drawn >> 8 & 255) - got[1],
        blue = (int)(drawn & 255) - got[2];
    return red * red + green * green + blue * blue;
}

static int most_moved_sq(void) {
    int most = 0;
    for (int y = 0; y < HIGH; y++)
        for (int x = 0; x < WIDE; x++) most = moved_sq(x, y) > most ? moved_sq(x, y) : most;
    return most;
}

static colour shade_of(int k) {
    return (colour){(k % 6) / 5.0, (k / 6 % 6) / 5.0, (k / 36) / 5.0};
}

Test(palette, few_colours_stay) {
    for (int k = 0; k < 200; k++) square(4 + 16 * (k % 20), 4 + 16 * (k / 20), 12, shade_of(k));
    read_back();
    cr_assert(png.has_palette);
    cr_assert_eq(most_moved_sq(), 0);
}

/* A patch of nine pixels, a step of 255 beside a much larger one. */
Test(palette, a_small_patch_keeps_its_colour) {
    square(20, 20, 200, (colour){0.4, 0.6, 0.2});
    for (int k = 0; k < 40; k++)
        square(240, 4 + 7 * k, 3 + k % 2, (colour){0.4, (100 + k) / 255.0, 0.2});
    for (int k = 0; k < 10; k++)
        canvas_line(&page, (gradin_vec2){5, 5 + k}, (gradin_vec2){230, 9 + 20 * k}, shade_of(k % 4),
                    1.3);
    read_back();
    cr_assert(png.has_palette);
    for (int k = 0; k < 40; k++) cr_assert_eq(moved_sq(241, 5 + 7 * k), 0, "patch %d", k);
}

Test(palette, edges_move_by_little) {
    for (int k = 0; k < 140; k++) {
        cairo_arc(page.cr, 15 + 30 * (k % 12), 15 + 24 * (k / 12), 10.3, 0.0, 2.0 * GRADIN_PI);
        canvas_fill(&page, shade_of(k));
    }
    read_back();
    cr_assert(png.has_palette);
    cr_assert_gt(most_moved_sq(), 0, "else nothing is tried");
    cr_assert_leq(most_moved_sq(), 1600);
    for (int k = 0; k < 140; k++)
        cr_assert_eq(moved_sq(15 + 30 * (k % 12), 15 + 24 * (k / 12)), 0, "disc %d", k);
}

Test(palette, what_shades_stays_as_it_is) {
    for (int y = 0; y < HIGH; y++)
        for (int x = 0; x < WIDE; x++) {
            uint32_t ink = 0xFF000000u | (uint32_t)(x * 255 / WIDE) << 16 |
                           (uint32_t)(y * 255 / HIGH) << 8 | (uint32_t)((x + y) % 256);
            memcpy(page.pixels + (size_t)y * (size_t)page.stride + 4 * (size_t)x, &ink, 4);
        }
    cairo_surface_mark_dirty(page.surface);
    read_back();
    cr_assert_not(png.has_palette);
    cr_assert_eq(most_moved_sq(), 0);
}

/* A slow slope of one channel has flat stripes; more of them than a palette has room for. */
Test(palette, more_flat_colours_than_entries_stay) {
    for (int k = 0; k < 300; k++)
        square(3 + 15 * (k % 24), 3 + 15 * (k / 24), 12,
               (colour){(k % 25) / 24.0, (k / 25) / 11.0, 0.5});
    read_back();
    cr_assert_not(png.has_palette);
    cr_assert_eq(most_moved_sq(), 0);
}
