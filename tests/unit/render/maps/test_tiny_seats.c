/* Seats too small on the page for an outline keep what tells their class without its colour. */
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>

static bool is_fill(const unsigned char *pixel, colour fill) {
    return abs(pixel[0] - (int)(255 * fill.r)) < 12 && abs(pixel[1] - (int)(255 * fill.g)) < 12 &&
           abs(pixel[2] - (int)(255 * fill.b)) < 12;
}

Test(tiny_seats, poor_ones_have_a_slash) {
    gradin_arena *arena = gradin_arena_create();
    fake_hall *hall = fake_hall_create(arena);
    unsigned char *bytes = NULL;
    size_t size = 0;
    png_back png;
    gradin_error error = {0};
    int n[2] = {0, 0};
    gradin_seats *s = &hall->model.seats;
    for (int i = 0; i < s->n_seat; i++) {
        s->width_m[i] = 0.07;
        s->depth_m[i] = 0.09;
    }
    cr_assert_eq(
        gradin_map_png(arena, &hall->assessment, GRADIN_MAP_RATING, 0, &bytes, &size, &error),
        GRADIN_OK);
    cr_assert(png_back_read(arena, bytes, size, &png));
    for (int i = 0; i < s->n_seat; i++) {
        gradin_rating rating = hall->assessment.sight.rating[i];
        if (s->sheet[i] != 0 || (rating != GRADIN_RATING_POOR && rating != GRADIN_RATING_CLEAR))
            continue;
        bool is_poor = rating == GRADIN_RATING_POOR;
        cr_expect_neq(is_fill(seat_pixel(hall, &png, i, 0.0, 0.0), colour_at(is_poor ? 0.05 : 1.0)),
                      is_poor, "seat %d", i);
        n[is_poor]++;
    }
    cr_assert_gt(n[0], 20);
    cr_assert_gt(n[1], 20);
    gradin_arena_destroy(arena);
}
