/* Views side by side on an A3 sheet that lies. */
#include "base/shared/plain.h"
#include "base/use.h"
#include "render/draw/encode.h"
#include "render/view/view_paint.h"

#include <stdio.h>

enum { PER_ROW = 4, N_ROW = 3 };
#define SHEET_WIDTH (PAGE_WIDTH * 420.0 / 297.0)
#define SHEET_HEIGHT PAGE_WIDTH
#define PAGE_MARGIN 56.0
#define GAP 26.0
#define HEAD 122.0
#define FOOT 92.0
#define CELL_WIDTH ((SHEET_WIDTH - 2.0 * PAGE_MARGIN - (PER_ROW - 1) * GAP) / PER_ROW)
#define CELL_HEIGHT ((SHEET_HEIGHT - HEAD - FOOT) / N_ROW)
#define ABOVE 66.0 /* title of a view */
#define BELOW 66.0

static void draw_head(canvas *page, const gradin_view *v, int n) {
    char text[TEXT_CHARS], size[120];
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "Views from %d seats \xC2\xB7 %.160s \xC2\xB7 %.160s", n,
             v->model->layout_name, v->model->venue_name);
    canvas_text_within(page, style, PAGE_MARGIN, 64.0, SHEET_WIDTH - 2.0 * PAGE_MARGIN, 22.0, text);
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    view_size_text(v, size, sizeof size);
    plain_print(
        text, sizeof text,
        "Chosen by what all seats see \xC2\xB7 %s, %.0f\xC2\xB0 across, towards the middle of "
        "the focus \xC2\xB7 hatched: hides part of the focus \xC2\xB7 %s",
        v->is_panorama ? "panorama" : "field of view", v->fov_deg, size);
    view_swatch(page, PAGE_MARGIN, 80.0, 34.0, 18.0);
    canvas_text_within(page, style, PAGE_MARGIN + 46.0, 96.0,
                       SHEET_WIDTH - 2.0 * PAGE_MARGIN - 46.0, 15.0, text);
}

static void draw_texts(canvas *page, const gradin_view_entry *e, double left, double top,
                       double below) {
    char text[TEXT_CHARS];
    const gradin_view *v = e->view;
    text_style style = {.size = 23.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(page, style, left, top + 28.0, CELL_WIDTH, 16.0, e->title);
    style = (text_style){.size = 20.0, .ink = COLOUR_INK};
    plain_print(text, sizeof text, "%.80s \xC2\xB7 sees %.1f %% of the focus",
                v->model->seats.id[v->seat], 100.0 * v->visible);
    canvas_text_within(page, style, left, top + 55.0, CELL_WIDTH, 14.0, text);
    style = (text_style){.size = 17.0, .ink = COLOUR_QUIET};
    view_causes_text(v, text, sizeof text);
    canvas_text_within(page, style, left, below + 22.0, CELL_WIDTH, 13.0, text);
    view_brief_text(v, text, sizeof text);
    canvas_text_within(page, style, left, below + 45.0, CELL_WIDTH, 13.0, text);
}

static bool draw_view(canvas *page, gradin_arena *scratch, const gradin_view_entry *e, int at) {
    const gradin_view *v = e->view;
    double left = PAGE_MARGIN + (at % PER_ROW) * (CELL_WIDTH + GAP);
    double top = HEAD + (at / PER_ROW) * CELL_HEIGHT;
    double pixel = fmin(CELL_WIDTH / v->width_px, (CELL_HEIGHT - ABOVE - BELOW) / v->height_px);
    double width = pixel * v->width_px, height = pixel * v->height_px;
    if (!view_paint(page, scratch, v, left, top + ABOVE, pixel)) return false;
    cairo_rectangle(page->cr, left, top + ABOVE, width, height);
    canvas_stroke(page, COLOUR_QUIET, 1.2);
    draw_texts(page, e, left, top, top + ABOVE + height);
    return true;
}

static void draw_foot(canvas *page, const gradin_view *v) {
    char text[TEXT_CHARS];
    double width = SHEET_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, SHEET_HEIGHT - 52.0, width, 15.0,
                       "Predicted from the layout's geometry, not measured. Figures, chests and "
                       "chairs hide nothing in the count. Rails and guards: local code and a "
                       "licensed professional decide; a view never justifies a lower or missing "
                       "guard.");
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s",
             v->model->digest);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, SHEET_HEIGHT - 24.0, width, 13.0, text);
}

bool view_sheet_draw(canvas *page, gradin_arena *scratch, const gradin_view_entry *entry, int n) {
    draw_head(page, entry[0].view, n);
    for (int i = 0; i < n; i++)
        if (!draw_view(page, scratch, &entry[i], i)) return false;
    draw_foot(page, entry[0].view);
    return true;
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch,
                            const gradin_view_entry *entry, int n, gradin_picture format,
                            unsigned char **bytes, size_t *size, gradin_error *error) {
    canvas page;
    const gradin_view *v = entry[0].view;
    gradin_status status =
        canvas_open_as(&page, scratch, format, SHEET_WIDTH, SHEET_HEIGHT, 1.0, error);
    if (status == GRADIN_OK && !view_sheet_draw(&page, scratch, entry, n))
        status = gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    if (status == GRADIN_OK) status = canvas_status(&page, error);
    const picture_of of = {"Views from chosen seats", v->model->layout_name, v->model->digest};
    return picture_end(arena, scratch, &page, status, of, bytes, size, error);
}

gradin_status view_sheet_check(const gradin_view_entry *entry, int n, gradin_error *error) {
    if (n < 1 || n > GRADIN_MAX_VIEW)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "%d views; 1 to %d are allowed", n,
                                GRADIN_MAX_VIEW);
    for (int i = 0; i < n; i++) {
        if (view_check(entry[i].view, error) != GRADIN_OK) return GRADIN_BAD_USE;
        if (!entry[i].title)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "view %d has no title", i + 1);
    }
    return GRADIN_OK;
}

gradin_status gradin_view_sheet_picture(gradin_arena *arena, const gradin_view_entry *entry,
                                        int n_entry, gradin_picture format, unsigned char **bytes,
                                        size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, entry, bytes, size) != GRADIN_OK ||
        view_sheet_check(entry, n_entry, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, entry, n_entry, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
