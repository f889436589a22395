/* unit/render/seat_pixels.h: what a map of the hall made by hand shows at a seat. */
#ifndef GRADIN_TEST_SEAT_PIXELS_H
#define GRADIN_TEST_SEAT_PIXELS_H

#include "render/draw/colour.h"
#include "unit/render/fake_hall.h"
#include "unit/render/png_back.h"

/* Pixel at a place of a seat: metres to its right and ahead of its middle. */
const unsigned char *seat_pixel(const fake_hall *hall, const png_back *png, int seat,
                                double right_m, double ahead_m);
/* Asserts that every plain seat of the sheet has the colour that wanted() gives it. */
void check_page(const fake_hall *hall, const png_back *png, const char *what, int sheet,
                colour (*wanted)(int map, int seat), int map);

#endif
