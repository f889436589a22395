#include "unit/render/png_back.h"

#include <png.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

typedef struct source {
    const unsigned char *bytes;
    size_t left;
} source;

static void on_read(png_structp png, png_bytep out, size_t length) {
    source *s = png_get_io_ptr(png);
    if (s->left < length) png_error(png, "too short");
    memcpy(out, s->bytes, length);
    s->bytes += length;
    s->left -= length;
}

static void take_texts(png_structp png, png_infop info, png_back *out) {
    png_textp text = NULL;
    out->n_text = png_get_text(png, info, &text, NULL);
    for (int i = 0; i < out->n_text && i < 8; i++) {
        snprintf(out->key[i], sizeof out->key[i], "%s", text[i].key);
        snprintf(out->text[i], sizeof out->text[i], "%s", text[i].text);
    }
}

static void read_all(png_structp png, png_infop info, gradin_arena *arena, png_back *out) {
    png_read_info(png, info);
    out->width = (int)png_get_image_width(png, info);
    out->height = (int)png_get_image_height(png, info);
    out->per_metre = png_get_pixels_per_meter(png, info);
    int type = png_get_color_type(png, info);
    out->has_palette = type == PNG_COLOR_TYPE_PALETTE;
    if ((type != PNG_COLOR_TYPE_RGB && !out->has_palette) || png_get_bit_depth(png, info) != 8)
        png_error(png, "neither RGB nor indices of 8 bits");
    if (out->has_palette) png_set_palette_to_rgb(png);
    size_t row = 3 * (size_t)out->width;
    out->rgb = gradin_arena_alloc(arena, (size_t)out->height, row);
    for (int y = 0; y < out->height; y++) png_read_row(png, out->rgb + row * (size_t)y, NULL);
    png_read_end(png, info);
    take_texts(png, info, out);
    out->has_time = png_get_valid(png, info, PNG_INFO_tIME) != 0;
}

bool png_back_read(gradin_arena *arena, const unsigned char *bytes, size_t size, png_back *out) {
    *out = (png_back){0};
    if (png_sig_cmp(bytes, 0, 8) != 0) return false;
    source from = {bytes, size};
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    if (setjmp(png_jmpbuf(png)) != 0) {
        png_destroy_read_struct(&png, &info, NULL);
        return false;
    }
    png_set_read_fn(png, &from, on_read);
    read_all(png, info, arena, out);
    png_destroy_read_struct(&png, &info, NULL);
    return from.left == 0;
}

const char *png_back_text(const png_back *png, const char *key) {
    for (int i = 0; i < png->n_text && i < 8; i++)
        if (strcmp(png->key[i], key) == 0) return png->text[i];
    return NULL;
}

const unsigned char *png_back_pixel(const png_back *png, int x, int y) {
    return png->rgb + 3 * ((size_t)y * (size_t)png->width + (size_t)x);
}
