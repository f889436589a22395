/* Cairo's PDF surface behind a canvas. */
#include "render/draw/pages.h"
#include "render/draw/font.h"

#include <cairo-pdf.h>
#include <string.h>

#define POINTS_WIDE (210.0 / 25.4 * 72.0)
#define POINTS_HIGH (297.0 / 25.4 * 72.0)

static bool make_room(pages *p, size_t needed) {
    if (p->size + needed <= p->capacity) return true;
    size_t capacity = 2 * (p->size + needed);
    unsigned char *bytes = gradin_arena_alloc(p->arena, capacity, 1);
    if (!bytes) return false;
    if (p->size > 0) memcpy(bytes, p->bytes, p->size);
    p->bytes = bytes;
    p->capacity = capacity;
    return true;
}

static cairo_status_t take(void *closure, const unsigned char *data, unsigned length) {
    pages *p = closure;
    if (p->failed || !make_room(p, length)) {
        p->failed = true;
        return CAIRO_STATUS_NO_MEMORY;
    }
    memcpy(p->bytes + p->size, data, length);
    p->size += length;
    return CAIRO_STATUS_SUCCESS;
}

static void describe(cairo_surface_t *surface, const char *title) {
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "gradin " GRADIN_VERSION);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "1970-01-01T00:00:00Z");
}

gradin_status pages_open(pages *p, gradin_arena *arena, const char *title, gradin_error *error) {
    *p = (pages){.arena = arena, .canvas = {.zoom = 1.0}};
    gradin_status status = font_open(false, &p->canvas.regular, error);
    if (status == GRADIN_OK) status = font_open(true, &p->canvas.bold, error);
    if (status != GRADIN_OK) return status;
    p->canvas.surface = cairo_pdf_surface_create_for_stream(take, p, POINTS_WIDE, POINTS_HIGH);
    describe(p->canvas.surface, title);
    p->canvas.cr = cairo_create(p->canvas.surface);
    font_options_set(p->canvas.cr);
    cairo_scale(p->canvas.cr, POINTS_WIDE / PAGE_WIDTH, POINTS_WIDE / PAGE_WIDTH);
    return GRADIN_OK;
}

void pages_turn(pages *p) {
    cairo_show_page(p->canvas.cr);
}

gradin_status pages_end(pages *p, gradin_error *error) {
    cairo_surface_finish(p->canvas.surface);
    if (p->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the sheets");
    return canvas_status(&p->canvas, error);
}

void pages_close(pages *p) {
    canvas_close(&p->canvas);
}
