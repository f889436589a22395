/* PNG (ISO/IEC 15948) by libpng. libpng leaves by longjmp on failure, so all that must outlive it
 * is in one struct, and all memory is the scratch arena's: nothing is left to free. */
#include "render/draw/encode.h"
#include "render/draw/palette.h"

#include <png.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

#define UNITS_PER_METRE (PAGE_WIDTH * 1000.0 / PAGE_WIDTH_MM)

typedef struct encoder {
    gradin_arena *scratch;
    unsigned char *bytes;
    size_t size, capacity;
    gradin_status failed;
    jmp_buf leave;
} encoder;

static void on_error(png_structp png, png_const_charp text) {
    (void)text;
    encoder *e = png_get_error_ptr(png);
    if (e->failed == GRADIN_OK) e->failed = GRADIN_NUMERIC;
    longjmp(e->leave, 1);
}

static void on_warning(png_structp png, png_const_charp text) {
    (void)png;
    (void)text;
}

static png_voidp take(png_structp png, png_alloc_size_t size) {
    encoder *e = png_get_mem_ptr(png);
    void *block = gradin_arena_alloc(e->scratch, size, 1);
    if (!block) e->failed = GRADIN_NO_MEMORY;
    return block;
}

static void drop(png_structp png, png_voidp block) {
    (void)png;
    (void)block;
}

static bool make_room(encoder *e, size_t more) {
    if (e->capacity - e->size >= more) return true;
    size_t wanted = 2 * e->capacity + more + 65536;
    unsigned char *larger = gradin_arena_alloc(e->scratch, wanted, 1);
    if (!larger) return false;
    if (e->size > 0) memcpy(larger, e->bytes, e->size);
    e->bytes = larger;
    e->capacity = wanted;
    return true;
}

static void on_write(png_structp png, png_bytep data, size_t length) {
    encoder *e = png_get_io_ptr(png);
    if (!make_room(e, length)) {
        e->failed = GRADIN_NO_MEMORY;
        png_error(png, "no memory");
    }
    memcpy(e->bytes + e->size, data, length);
    e->size += length;
}

static void on_flush(png_structp png) {
    (void)png;
}

static bool is_ascii(const char *text) {
    for (; *text != '\0'; text++)
        if ((unsigned char)*text >= 0x80) return false;
    return true;
}

static void write_palette(png_structp png, png_infop info, const palette *colours) {
    png_color entry[PALETTE_SIZE];
    for (int k = 0; k < colours->n; k++)
        entry[k] = (png_color){(png_byte)(colours->ink[k] >> 16), (png_byte)(colours->ink[k] >> 8),
                               (png_byte)colours->ink[k]};
    png_set_PLTE(png, info, entry, colours->n);
    png_set_check_for_invalid_index(png, 0); /* there is none */
}

static void write_head(png_structp png, png_infop info, const canvas *page,
                       const palette *colours) {
    png_uint_32 per_metre = (png_uint_32)(UNITS_PER_METRE * page->zoom + 0.5);
    png_set_IHDR(png, info, (png_uint_32)page->width_px, (png_uint_32)page->height_px, 8,
                 colours->n > 0 ? PNG_COLOR_TYPE_PALETTE : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    if (colours->n > 0) write_palette(png, info, colours);
    png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
    png_set_compression_level(png, 2);     /* 6 takes over twice as long for a sixth less */
    png_set_compression_mem_level(png, 6); /* as small as with 8, and less to tidy up */
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
}

static void write_note(png_structp png, png_infop info, encode_note note) {
    /* libpng copies both; it only lacks the const. */
    png_text text = {.compression = is_ascii(note.text) ? PNG_TEXT_COMPRESSION_NONE
                                                        : PNG_ITXT_COMPRESSION_NONE,
                     .key = (png_charp)(uintptr_t)note.key,
                     .text = (png_charp)(uintptr_t)note.text};
    png_set_text(png, info, &text, 1);
}

static void write_notes(png_structp png, png_infop info, const encode_note *note, int n_note) {
    for (int i = 0; i < n_note; i++) write_note(png, info, note[i]);
}

/* Rounded down, so that it never claims more than is there. */
static void write_least_text(png_structp png, png_infop info, const canvas *page) {
    char number[16], text[24];
    double points = floor(10.0 * page->least_text / UNITS_PER_POINT + 1e-6) / 10.0;
    gradin_format_fixed(number, sizeof number, points, 1);
    snprintf(text, sizeof text, "%s pt", number);
    write_note(png, info, (encode_note){"Smallest text", text});
}

static void write_rows(png_structp png, const canvas *page, unsigned char *row) {
    for (int y = 0; y < page->height_px; y++) {
        const unsigned char *line = page->pixels + (size_t)y * (size_t)page->stride;
        for (int x = 0; x < page->width_px; x++) {
            uint32_t pixel;
            memcpy(&pixel, line + 4 * (size_t)x, sizeof pixel);
            row[3 * (size_t)x] = (unsigned char)(pixel >> 16);
            row[3 * (size_t)x + 1] = (unsigned char)(pixel >> 8);
            row[3 * (size_t)x + 2] = (unsigned char)pixel;
        }
        png_write_row(png, row);
    }
}

static void write_indices(png_structp png, const canvas *page, const palette *colours,
                          unsigned char *row) {
    size_t at = 0;
    for (int y = 0; y < page->height_px; y++) {
        palette_row(colours, page->width_px, &at, row);
        png_write_row(png, row);
    }
}

static void encode(encoder *e, const canvas *page, const palette *colours, const encode_note *note,
                   int n_note) {
    if (setjmp(e->leave) != 0) return;
    png_structp png =
        png_create_write_struct_2(PNG_LIBPNG_VER_STRING, e, on_error, on_warning, e, take, drop);
    png_infop info = png ? png_create_info_struct(png) : NULL;
    unsigned char *row = gradin_arena_alloc(e->scratch, (size_t)page->width_px + PALETTE_SLACK, 3);
    if (!png || !info || !row) {
        e->failed = GRADIN_NO_MEMORY;
        return;
    }
    png_set_write_fn(png, e, on_write, on_flush);
    write_head(png, info, page, colours);
    write_notes(png, info, note, n_note);
    write_least_text(png, info, page);
    png_write_info(png, info);
    if (colours->n > 0)
        write_indices(png, page, colours, row);
    else
        write_rows(png, page, row);
    png_write_end(png, NULL);
}

gradin_status encode_png(gradin_arena *arena, gradin_arena *scratch, const canvas *page,
                         const encode_note *note, int n_note, unsigned char **bytes, size_t *size,
                         gradin_error *error) {
    encoder e = {.scratch = scratch};
    palette colours;
    e.failed = palette_of(scratch, page, &colours);
    if (e.failed == GRADIN_OK) encode(&e, page, &colours, note, n_note);
    unsigned char *copy = NULL;
    if (e.failed == GRADIN_OK) {
        copy = gradin_arena_alloc(arena, e.size, 1);
        if (!copy) e.failed = GRADIN_NO_MEMORY;
    }
    if (e.failed != GRADIN_OK)
        return gradin_error_add(error, e.failed, NULL, "the picture cannot be encoded as PNG: %s",
                                gradin_status_name(e.failed));
    memcpy(copy, e.bytes, e.size);
    *bytes = copy;
    *size = e.size;
    return GRADIN_OK;
}
