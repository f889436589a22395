/* unit/render/png_back.h: a PNG read back by libpng. */
#ifndef GRADIN_TEST_PNG_BACK_H
#define GRADIN_TEST_PNG_BACK_H

#include "gradin/base.h"

typedef struct png_back {
    int width, height, n_text;
    unsigned per_metre;
    bool has_time, has_palette;
    unsigned char *rgb; /* [height][width][3] */
    char key[8][80], text[8][512];
} png_back;

/* False when libpng refuses the bytes. */
bool png_back_read(gradin_arena *arena, const unsigned char *bytes, size_t size, png_back *out);
const char *png_back_text(const png_back *png, const char *key); /* NULL without that key */
const unsigned char *png_back_pixel(const png_back *png, int x, int y);

#endif
