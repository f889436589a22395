/* Cairo behind a few figures. */
#include "render/draw/canvas.h"
#include "render/draw/font.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <string.h>

static gradin_status open_surface(canvas *page, gradin_arena *arena, double width, double height,
                                  gradin_error *error) {
    page->width_px = (int)(width * page->zoom);
    page->height_px = (int)ceil(height * page->zoom);
    page->stride = cairo_format_stride_for_width(CAIRO_FORMAT_ARGB32, page->width_px);
    page->pixels = gradin_arena_alloc(arena, (size_t)page->height_px, (size_t)page->stride);
    if (!page->pixels)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    page->surface = cairo_image_surface_create_for_data(
        page->pixels, CAIRO_FORMAT_ARGB32, page->width_px, page->height_px, page->stride);
    page->cr = cairo_create(page->surface);
    return GRADIN_OK;
}

static cairo_status_t append(void *user, const unsigned char *data, unsigned length) {
    canvas_stream *stream = user;
    if (stream->capacity - stream->size < length) {
        size_t wanted = 2 * stream->capacity + length + 65536;
        unsigned char *larger = gradin_arena_alloc(stream->arena, wanted, 1);
        if (!larger) return CAIRO_STATUS_NO_MEMORY;
        if (stream->size > 0) memcpy(larger, stream->bytes, stream->size);
        stream->bytes = larger;
        stream->capacity = wanted;
    }
    memcpy(stream->bytes + stream->size, data, length);
    stream->size += length;
    return CAIRO_STATUS_SUCCESS;
}

/* In points, as both formats want it; the zoom is points per page unit. */
static gradin_status open_stream(canvas *page, gradin_arena *arena, double width, double height,
                                 gradin_error *error) {
    double wide = width / UNITS_PER_POINT, high = height / UNITS_PER_POINT;
    page->zoom = 1.0 / UNITS_PER_POINT;
    page->stream = gradin_arena_alloc(arena, 1, sizeof *page->stream);
    if (!page->stream)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    page->stream->arena = arena;
    page->surface = page->format == GRADIN_PICTURE_SVG
                        ? cairo_svg_surface_create_for_stream(append, page->stream, wide, high)
                        : cairo_pdf_surface_create_for_stream(append, page->stream, wide, high);
    page->cr = cairo_create(page->surface);
    return GRADIN_OK;
}

gradin_status canvas_open_as(canvas *page, gradin_arena *arena, gradin_picture format, double width,
                             double height, double zoom, gradin_error *error) {
    *page = (canvas){.format = format, .zoom = zoom};
    gradin_status status = font_open(false, &page->regular, error);
    if (status == GRADIN_OK) status = font_open(true, &page->bold, error);
    if (status == GRADIN_OK)
        status = format == GRADIN_PICTURE_PNG ? open_surface(page, arena, width, height, error)
                                              : open_stream(page, arena, width, height, error);
    if (status != GRADIN_OK) return status;
    font_options_set(page->cr);
    cairo_scale(page->cr, page->zoom, page->zoom);
    cairo_set_antialias(page->cr, CAIRO_ANTIALIAS_GRAY);
    canvas_ink(page, COLOUR_WHITE);
    cairo_paint(page->cr);
    return GRADIN_OK;
}

gradin_status canvas_open_wide(canvas *page, gradin_arena *arena, double width, double height,
                               double zoom, gradin_error *error) {
    return canvas_open_as(page, arena, GRADIN_PICTURE_PNG, width, height, zoom, error);
}

gradin_status canvas_open(canvas *page, gradin_arena *arena, double height, double zoom,
                          gradin_error *error) {
    return canvas_open_wide(page, arena, PAGE_WIDTH, height, zoom, error);
}

void canvas_turn(canvas *page) {
    cairo_show_page(page->cr);
}

gradin_status canvas_use_mono(canvas *page, gradin_error *error) {
    return page->mono ? GRADIN_OK : font_open_mono(&page->mono, error);
}

void canvas_close(canvas *page) {
    if (page->cr) cairo_destroy(page->cr);
    if (page->surface) cairo_surface_destroy(page->surface);
    if (page->regular) cairo_font_face_destroy(page->regular);
    if (page->bold) cairo_font_face_destroy(page->bold);
    if (page->mono) cairo_font_face_destroy(page->mono);
    *page = (canvas){.zoom = 1.0};
}

gradin_status canvas_status(canvas *page, gradin_error *error) {
    cairo_surface_flush(page->surface);
    cairo_status_t status = cairo_status(page->cr);
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(page->surface);
    if (status == CAIRO_STATUS_SUCCESS) return GRADIN_OK;
    gradin_status family = status == CAIRO_STATUS_NO_MEMORY ? GRADIN_NO_MEMORY : GRADIN_NUMERIC;
    return gradin_error_add(error, family, NULL, "the picture cannot be drawn: %s",
                            cairo_status_to_string(status));
}

void canvas_ink(canvas *page, colour ink) {
    cairo_set_source_rgb(page->cr, ink.r, ink.g, ink.b);
}

void canvas_fill(canvas *page, colour ink) {
    canvas_ink(page, ink);
    cairo_fill(page->cr);
}

void canvas_fill_keep(canvas *page, colour ink) {
    canvas_ink(page, ink);
    cairo_fill_preserve(page->cr);
}

void canvas_stroke(canvas *page, colour ink, double width) {
    canvas_ink(page, ink);
    cairo_set_line_width(page->cr, width);
    cairo_stroke(page->cr);
}

void canvas_line(canvas *page, gradin_vec2 a, gradin_vec2 b, colour ink, double width) {
    cairo_move_to(page->cr, a.x, a.y);
    cairo_line_to(page->cr, b.x, b.y);
    canvas_stroke(page, ink, width);
}

void canvas_dashed(canvas *page, double on, double off) {
    double dash[2] = {on, off};
    cairo_set_dash(page->cr, dash, on > 0.0 ? 2 : 0, 0.0);
}

void canvas_arrow(canvas *page, gradin_vec2 from, gradin_vec2 to, colour ink, double width) {
    double dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
    if (!(length > 0.0)) return;
    double ux = dx / length, uy = dy / length, head = fmin(8.0 + 2.0 * width, 0.6 * length);
    gradin_vec2 neck = {to.x - ux * head, to.y - uy * head};
    canvas_line(page, from, neck, ink, width);
    cairo_move_to(page->cr, to.x, to.y);
    cairo_line_to(page->cr, neck.x - uy * head * 0.45, neck.y + ux * head * 0.45);
    cairo_line_to(page->cr, neck.x + uy * head * 0.45, neck.y - ux * head * 0.45);
    cairo_close_path(page->cr);
    canvas_fill(page, ink);
}
