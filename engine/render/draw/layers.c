/* Layers of pixels: what many pictures share is drawn once. */
#include "render/draw/layers.h"
#include "render/draw/font.h"

#include <string.h>

gradin_status layer_open(canvas *layer, gradin_arena *arena, const canvas *like, double bottom,
                         gradin_error *error) {
    *layer = (canvas){.format = GRADIN_PICTURE_PNG,
                      .zoom = like->zoom,
                      .width_px = like->width_px,
                      .stride = like->stride};
    layer->height_px = (int)fmin(ceil(bottom * like->zoom), like->height_px);
    layer->pixels = gradin_arena_alloc(arena, (size_t)layer->height_px, (size_t)layer->stride);
    if (!layer->pixels)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    layer->regular = cairo_font_face_reference(like->regular);
    layer->bold = cairo_font_face_reference(like->bold);
    layer->surface = cairo_image_surface_create_for_data(
        layer->pixels, CAIRO_FORMAT_ARGB32, layer->width_px, layer->height_px, layer->stride);
    layer->cr = cairo_create(layer->surface);
    font_options_set(layer->cr);
    cairo_scale(layer->cr, layer->zoom, layer->zoom);
    cairo_set_antialias(layer->cr, CAIRO_ANTIALIAS_GRAY);
    return GRADIN_OK;
}

static void fill(canvas *page, int first_row, int byte) {
    memset(page->pixels + (size_t)first_row * (size_t)page->stride, byte,
           (size_t)(page->height_px - first_row) * (size_t)page->stride);
}

void layer_wipe(canvas *layer, bool is_white) {
    cairo_surface_flush(layer->surface);
    fill(layer, 0, is_white ? 0xFF : 0);
    cairo_surface_mark_dirty(layer->surface);
    layer->least_text = 0.0;
}

static void note_text(canvas *page, const canvas *layer) {
    bool has_none = page->least_text <= 0.0;
    if (layer->least_text > 0.0 && (has_none || layer->least_text < page->least_text))
        page->least_text = layer->least_text;
}

void layer_copy(canvas *page, canvas *layer) {
    cairo_surface_flush(layer->surface);
    cairo_surface_flush(page->surface);
    memcpy(page->pixels, layer->pixels, (size_t)layer->height_px * (size_t)layer->stride);
    fill(page, layer->height_px, 0xFF);
    cairo_surface_mark_dirty(page->surface);
    page->least_text = layer->least_text;
}

/* Is any pixel of a tile drawn on? */
static bool is_drawn(const canvas *layer, int x, int y, int width, int height) {
    for (int row = y; row < y + height; row++) {
        const unsigned char *bytes = layer->pixels + (size_t)row * (size_t)layer->stride;
        const uint32_t *line = (const uint32_t *)(const void *)bytes;
        uint32_t any = 0;
        for (int k = x; k < x + width; k++) any |= line[k];
        if (any != 0) return true;
    }
    return false;
}

gradin_status layer_find_drawn(canvas *layer, gradin_arena *arena, layer_tiles *tiles,
                               gradin_error *error) {
    cairo_surface_flush(layer->surface);
    tiles->columns = (layer->width_px + LAYER_TILE - 1) / LAYER_TILE;
    tiles->rows = (layer->height_px + LAYER_TILE - 1) / LAYER_TILE;
    tiles->is_drawn =
        gradin_arena_alloc(arena, (size_t)tiles->rows * (size_t)tiles->columns, sizeof(bool));
    if (!tiles->is_drawn)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    for (int row = 0; row < tiles->rows; row++)
        for (int column = 0; column < tiles->columns; column++) {
            int x = column * LAYER_TILE, y = row * LAYER_TILE;
            int right = x + LAYER_TILE < layer->width_px ? x + LAYER_TILE : layer->width_px;
            int below = y + LAYER_TILE < layer->height_px ? y + LAYER_TILE : layer->height_px;
            tiles->is_drawn[row * tiles->columns + column] =
                is_drawn(layer, x, y, right - x, below - y);
        }
    return GRADIN_OK;
}

/* The tiles of a row that lie side by side as one rectangle each. */
static void add_row(cairo_t *cr, const bool *is_drawn_at, int columns, int row) {
    for (int column = 0; column < columns; column++) {
        int first = column;
        while (column < columns && is_drawn_at[column]) column++;
        if (column > first)
            cairo_rectangle(cr, first * LAYER_TILE, row * LAYER_TILE, (column - first) * LAYER_TILE,
                            LAYER_TILE);
    }
}

void layer_over(canvas *page, canvas *layer, const layer_tiles *tiles) {
    note_text(page, layer);
    cairo_save(page->cr);
    cairo_identity_matrix(page->cr);
    cairo_set_source_surface(page->cr, layer->surface, 0.0, 0.0);
    cairo_new_path(page->cr);
    for (int row = 0; row < tiles->rows; row++)
        add_row(page->cr, tiles->is_drawn + row * tiles->columns, tiles->columns, row);
    cairo_fill(page->cr);
    cairo_restore(page->cr);
}
