#include "unit/render/seat_pixels.h"

#include "render/draw/view.h"

#include <criterion/criterion.h>

const unsigned char *seat_pixel(const fake_hall *hall, const png_back *png, int seat,
                                double right_m, double ahead_m) {
    view v;
    cr_assert(view_of(&hall->model, &v));
    const gradin_seats *s = &hall->model.seats;
    gradin_vec2 f = gradin_bearing_unit(s->facing_deg[seat]);
    gradin_vec2 at = view_point(&v, s->floor_m[seat].x + ahead_m * f.x + right_m * f.y,
                                s->floor_m[seat].y + ahead_m * f.y - right_m * f.x);
    return png_back_pixel(png, (int)(at.x * v.zoom), (int)(at.y * v.zoom));
}

/* To a step of one: the drawing library goes to 8 bits by way of 16. */
static bool is_colour(const unsigned char *pixel, colour fill) {
    return fabs(pixel[0] - 255 * fill.r) <= 1.0 && fabs(pixel[1] - 255 * fill.g) <= 1.0 &&
           fabs(pixel[2] - 255 * fill.b) <= 1.0;
}

void check_page(const fake_hall *hall, const png_back *png, const char *what, int sheet,
                colour (*wanted)(int map, int seat), int map) {
    const gradin_seats *s = &hall->model.seats;
    int n = 0;
    for (int i = 0; i < s->n_seat; i++) {
        if (s->sheet[i] != sheet || s->kind[i] != GRADIN_SEAT_STANDARD) continue;
        colour fill = wanted(map, i);
        /* Both front corners, far out: a slash passes through one of them only, and a value with
         * its sign reaches near. */
        int hit = 0;
        for (int side = -1; side <= 1; side += 2) {
            hit += is_colour(seat_pixel(hall, png, i, side * 0.17, 0.22), fill);
            hit += is_colour(seat_pixel(hall, png, i, side * 0.21, 0.28), fill);
        }
        cr_assert_geq(hit, 1, "%s, seat %d", what, i);
        n++;
    }
    cr_assert_gt(n, 100);
}
