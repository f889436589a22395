/* One view with its figures below. */
#include "base/shared/plain.h"
#include "base/use.h"
#include "render/draw/encode.h"
#include "render/view/view_paint.h"

#include <stdio.h>

#define CAPTION_HEIGHT 226.0
#define EDGE 34.0
#define WIDTH (PAGE_WIDTH - 2.0 * EDGE)

static void draw_caption(canvas *page, const gradin_view *v, double top) {
    char text[TEXT_CHARS], size[120];
    text_style style = {.size = 34.0, .is_bold = true, .ink = COLOUR_INK, .align = TEXT_RIGHT};
    plain_print(text, sizeof text, "sees %.1f %% of the focus", 100.0 * v->visible);
    double seen_width = canvas_text_width(page, style, text);
    canvas_text(page, style, PAGE_WIDTH - EDGE, top + 44.0, text);
    style.align = TEXT_LEFT;
    snprintf(text, sizeof text, "Seat %.80s \xC2\xB7 %.120s \xC2\xB7 %.120s",
             v->model->seats.id[v->seat], v->model->layout_name, v->model->venue_name);
    canvas_text_within(page, style, EDGE, top + 44.0, WIDTH - seen_width - 40.0, 20.0, text);
    style = (text_style){.size = 24.0, .ink = COLOUR_INK};
    view_causes_text(v, text, sizeof text);
    canvas_text_within(page, style, EDGE, top + 82.0, WIDTH, 17.0, text);
    view_place_text(v, text, sizeof text);
    canvas_text_within(page, style, EDGE, top + 116.0, WIDTH, 17.0, text);
    view_swatch(page, EDGE, top + 132.0, 40.0, 20.0);
    style = (text_style){.size = 21.0, .ink = COLOUR_QUIET};
    view_size_text(v, size, sizeof size);
    snprintf(text, sizeof text,
             "hides part of the focus \xC2\xB7 %s; figures, chests and chairs hide nothing in the "
             "count",
             size);
    canvas_text_within(page, style, EDGE + 52.0, top + 149.0, WIDTH - 52.0, 15.0, text);
}

static void draw_foot(canvas *page, const gradin_view *v, double top) {
    char text[TEXT_CHARS], outside[120];
    view_outside_text(v, outside, sizeof outside);
    text_style style = {.size = 21.0, .ink = COLOUR_QUIET};
    snprintf(
        text, sizeof text,
        "%sPredicted from the layout's geometry, not measured. Light, faces, materials and what "
        "no file states are not shown.",
        outside);
    canvas_text_within(page, style, EDGE, top + 180.0, WIDTH, 15.0, text);
    snprintf(text, sizeof text,
             "gradin " GRADIN_VERSION
             " \xC2\xB7 input digest %.32s \xC2\xB7 a view never justifies a "
             "lower or missing guard: local code and a licensed professional decide",
             v->model->digest);
    style.size = 17.0;
    canvas_text_within(page, style, EDGE, top + 208.0, WIDTH, 13.0, text);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, const gradin_view *v,
                            gradin_picture format, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    canvas page;
    char title[TEXT_CHARS];
    double zoom = (v->width_px + 1e-6) / PAGE_WIDTH, pixel = PAGE_WIDTH / v->width_px;
    double picture = pixel * v->height_px;
    gradin_status status =
        canvas_open_as(&page, scratch, format, PAGE_WIDTH, picture + CAPTION_HEIGHT, zoom, error);
    if (status == GRADIN_OK && !view_paint(&page, scratch, v, 0.0, 0.0, pixel))
        status = gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    if (status == GRADIN_OK) {
        draw_caption(&page, v, picture);
        draw_foot(&page, v, picture);
        status = canvas_status(&page, error);
    }
    snprintf(title, sizeof title, "View from %.80s: %.200s", v->model->seats.id[v->seat],
             v->model->layout_name);
    const picture_of of = {title, v->model->layout_name, v->model->digest};
    return picture_end(arena, scratch, &page, status, of, bytes, size, error);
}

gradin_status gradin_view_picture(gradin_arena *arena, const gradin_view *view,
                                  gradin_picture format, unsigned char **bytes, size_t *size,
                                  gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || view_check(view, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, view, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}

static gradin_status paint_bare(gradin_arena *arena, gradin_arena *scratch, const gradin_view *v,
                                unsigned char **bytes, size_t *size, gradin_error *error) {
    canvas page;
    gradin_status status =
        canvas_open_as(&page, scratch, GRADIN_PICTURE_PNG, v->width_px, v->height_px, 1.0, error);
    if (status == GRADIN_OK && !view_paint(&page, scratch, v, 0.0, 0.0, 1.0))
        status = gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    if (status == GRADIN_OK) status = canvas_status(&page, error);
    const picture_of of = {v->model->seats.id[v->seat], v->model->layout_name, v->model->digest};
    return picture_end(arena, scratch, &page, status, of, bytes, size, error);
}

gradin_status gradin_view_image(gradin_arena *arena, const gradin_view *view, unsigned char **bytes,
                                size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || view_check(view, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = paint_bare(arena, scratch, view, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
