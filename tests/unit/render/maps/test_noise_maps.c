/* Maps of noise beyond one level: bands and differences. */
#include "render/maps/quantity.h"
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>

static gradin_arena *arena;
static fake_hall *hall;

static void set_up(void) {
    arena = gradin_arena_create();
    hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
}

static void tear_down(void) {
    gradin_arena_destroy(arena);
}

TestSuite(noise_maps, .init = set_up, .fini = tear_down);

/* 52 to 66 dB about the limit of 60; without a limit -11 to 31 dB about the median of 8. */
static colour band_colour(int band, int seat) {
    static const double first[2] = {51.0, -12.0}, step[2] = {3.0, 6.0}, n[2] = {6.0, 7.0};
    double k = ceil((hall->band[band].level_db[seat] - first[band]) / step[band]) - 1.0;
    return colour_at(1.0 - fmin(fmax(k, 0.0), n[band] - 1.0) / (n[band] - 1.0));
}

/* The hall's NC marks octaves alone. */
Test(noise_maps, bands_have_steps_about_their_limit) {
    static const char *const name[2] = {
        "Octave 125 Hz at the moment of the maximum, shades as set, dB",
        "Third octave 1250 Hz at the moment of the maximum, shades as set, dB"};
    for (int k = 0; k < 2; k++) {
        unsigned char *bytes = NULL;
        size_t size = 0;
        png_back png;
        cr_assert_eq(gradin_band_map_png(arena, &hall->assessment, k, 0, &bytes, &size, NULL),
                     GRADIN_OK);
        cr_assert(png_back_read(arena, bytes, size, &png));
        cr_assert_str_eq(png_back_text(&png, "Quantity"), name[k]);
        check_page(hall, &png, name[k], 0, band_colour, k);
        quantity q = quantity_of_band(&hall->assessment, k, GRADIN_MAP_SCALE_FIXED);
        int n_marked = 0, n_over = 0;
        for (int i = 0; i < hall->model.seats.n_seat; i++) {
            n_marked += quantity_is_marked(&q, i);
            n_over += k == 0 && hall->band[k].level_db[i] > 60.0;
        }
        cr_assert_eq(n_marked, n_over);
    }
    cr_assert_eq(gradin_band_map_png(arena, &hall->assessment, 2, 0, NULL, NULL, NULL),
                 GRADIN_BAD_USE);
}

/* Zero is in the middle, both ends are as far from it, and the sign stands in print. */
Test(noise_maps, differences_show_their_sign) {
    quantity q = quantity_of(&hall->assessment, GRADIN_MAP_SHADE_GAIN, GRADIN_MAP_SCALE_FIXED);
    char text[16];
    colour fill, zero = colour_difference(0.0);
    double value[4] = {0.94, -0.94, 0.04, -0.04};
    static const char *const wanted[4] = {"+0.9", "-0.9", "0.0", "0.0"};
    q.value = value;
    for (int i = 0; i < 4; i++) {
        quantity_seat(&q, i, text, &fill);
        cr_assert_str_eq(text, wanted[i]);
    }
    value[0] = 0.0;
    quantity_seat(&q, 0, text, &fill);
    cr_assert(fill.r == zero.r && fill.g == zero.g && fill.b == zero.b);
    cr_assert_eq(q.low, -q.high);
    cr_assert_not(quantity_is_marked(&q, 1));
}
