/* Seats too small on the page for an outline: none is lost, and each keeps what tells its class
 * without its colour. */
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>

static bool is_fill(const unsigned char *pixel, colour fill) {
    return abs(pixel[0] - (int)(255 * fill.r)) < 12 && abs(pixel[1] - (int)(255 * fill.g)) < 12 &&
           abs(pixel[2] - (int)(255 * fill.b)) < 12;
}

static fake_hall *shrunk(gradin_arena *arena) {
    fake_hall *hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
    for (int i = 0; i < hall->model.seats.n_seat; i++) {
        hall->model.seats.width_m[i] = 0.07;
        hall->model.seats.depth_m[i] = 0.09;
    }
    return hall;
}

static png_back drawn(gradin_arena *arena, const fake_hall *hall) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    png_back png;
    gradin_status status =
        gradin_map_png(arena, &hall->assessment, GRADIN_MAP_RATING, 0, &bytes, &size, NULL);
    cr_assert_eq(status, GRADIN_OK);
    cr_assert(png_back_read(arena, bytes, size, &png));
    return png;
}

/* All of one colour, and behind them one that is large enough for an outline. */
Test(tiny_seats, none_is_lost_beside_a_larger_one) {
    gradin_arena *arena = gradin_arena_create();
    fake_hall *hall = shrunk(arena);
    const gradin_seats *s = &hall->model.seats;
    int large = s->n_seat - 1;
    while (s->sheet[large] != 0) large--;
    s->width_m[large] = s->depth_m[large] = 0.5;
    for (int i = 0; i < s->n_seat; i++) hall->assessment.sight.rating[i] = GRADIN_RATING_CLEAR;
    png_back png = drawn(arena, hall);
    for (int i = 0; i < large; i++)
        if (s->sheet[i] == 0)
            cr_expect(is_fill(seat_pixel(hall, &png, i, 0.0, 0.0), colour_at(1.0)), "seat %d", i);
    gradin_arena_destroy(arena);
}

Test(tiny_seats, poor_ones_have_a_slash) {
    gradin_arena *arena = gradin_arena_create();
    fake_hall *hall = shrunk(arena);
    const gradin_seats *s = &hall->model.seats;
    png_back png = drawn(arena, hall);
    int n[2] = {0, 0};
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
