/* The whole page: title, plan, scale strip, legend, foot. */
#include "gradin/render.h"
#include "render/encode.h"
#include "render/legend.h"
#include "render/seats.h"

#include <stdio.h>
#include <string.h>

static const char *form_name(gradin_form form) {
    static const char *const name[] = {"end stage", "thrust",     "in the round",
                                       "traverse",  "flat floor", "custom form"};
    return (int)form >= 0 && form <= GRADIN_FORM_CUSTOM ? name[form] : "";
}

static int seats_on(const gradin_seats *seats, int sheet) {
    int n = 0;
    for (int i = 0; i < seats->n_seat; i++) n += seats->sheet[i] == sheet;
    return n;
}

static void sheet_text(const gradin_seats *seats, int sheet, char *text, size_t size) {
    if (seats->n_sheet < 2)
        text[0] = '\0';
    else
        snprintf(text, size, " \xC2\xB7 sheet %d of %d, with %d of them", sheet + 1, seats->n_sheet,
                 seats_on(seats, sheet));
}

static void draw_title(canvas *page, const gradin_model *model, const quantity *q, int sheet) {
    char text[TEXT_CHARS], on_sheet[96];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    quantity_heading(q, text, sizeof text);
    canvas_text_within(page, style, PAGE_MARGIN, 72.0, width, 22.0, text);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %.200s", model->layout_name, model->venue_name);
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, width, 17.0, text);
    sheet_text(&model->seats, sheet, on_sheet, sizeof on_sheet);
    snprintf(text, sizeof text, "%s \xC2\xB7 %d places, %d of them for wheelchairs%s",
             form_name(model->form), model->seats.n_seat, model->seats.n_wheelchair, on_sheet);
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, width, 15.0, text);
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, 164.0},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, 164.0}, COLOUR_FAINT, 1.2);
}

static void caution_text(const gradin_assessment *assessment, const quantity *q, char *text,
                         size_t size) {
    if (!q->is_noise) {
        snprintf(text, size,
                 "Predicted from the layout's geometry, not measured. Rails and guards: local code "
                 "and a licensed professional decide. A seat's rating never justifies a lower or "
                 "missing guard.");
        return;
    }
    char uncertainty[24];
    gradin_format_fixed(uncertainty, sizeof uncertainty, assessment->noise.uncertainty_db, 1);
    snprintf(
        text, size,
        "Predicted, not measured; the method's usual standard uncertainty of a level is %s dB. "
        "Levels re 20 \xC2\xB5Pa. Have an acoustician confirm glazing and track.",
        uncertainty[0] ? uncertainty : "not stated,");
}

static void draw_foot(canvas *page, const view *v, const gradin_assessment *assessment,
                      const quantity *q) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, v->foot_top},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, v->foot_top}, COLOUR_FAINT, 1.2);
    caution_text(assessment, q, text, sizeof text);
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    double y = canvas_text_wrapped(page, style, PAGE_MARGIN, v->foot_top + 28.0, width, text);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text,
             "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s \xC2\xB7 north is up",
             assessment->model->digest);
    canvas_text_within(page, style, PAGE_MARGIN, y + 4.0, width, 13.0, text);
}

static void draw_plan(const plan *p, const gradin_assessment *assessment, const quantity *q) {
    const gradin_seats *seats = &p->model->seats;
    plan_draw_ground(p);
    seats_take(p->grid, p->v, seats, p->sheet);
    seats_draw_others(p->page, p->v, seats, p->sheet);
    seats_draw(p->page, p->v, assessment, q, p->sheet);
    plan_draw_structure(p);
    plan_draw_facade(p);
    if (q->is_noise) plan_draw_flight(p);
    plan_draw_names(p);
}

static void draw_page(canvas *page, const view *v, const gradin_assessment *assessment,
                      const quantity *q, int sheet, label_grid *grid) {
    plan p = {page, v, assessment->model, grid, sheet, q->shades};
    draw_title(page, assessment->model, q, sheet);
    draw_plan(&p, assessment, q);
    legend_draw_scale_strip(page, v, assessment->model);
    legend_draw_scale(page, v, assessment, q, sheet);
    legend_draw_symbols(page, v, assessment, q, sheet);
    draw_foot(page, v, assessment, q);
}

static gradin_status encode_page(gradin_arena *arena, gradin_arena *scratch, const canvas *page,
                                 const gradin_model *model, const quantity *q,
                                 unsigned char **bytes, size_t *size, gradin_error *error) {
    char name[160], title[TEXT_CHARS];
    quantity_heading(q, name, sizeof name);
    snprintf(title, sizeof title, "%s: %.200s", q->title, model->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", model->layout_name},
                                {"Quantity", name},
                                {"Source", model->digest}};
    return encode_png(arena, scratch, page, note, (int)(sizeof note / sizeof note[0]), bytes, size,
                      error);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, const view *v,
                            const gradin_assessment *assessment, const quantity *q, int sheet,
                            unsigned char **bytes, size_t *size, gradin_error *error) {
    canvas page;
    label_grid grid;
    gradin_status status = labels_open(&grid, scratch, v, error);
    if (status != GRADIN_OK) return status;
    status = canvas_open(&page, scratch, v->page_height, v->zoom, error);
    if (status == GRADIN_OK) {
        draw_page(&page, v, assessment, q, sheet, &grid);
        status = canvas_status(&page, error);
    }
    if (status == GRADIN_OK)
        status = encode_page(arena, scratch, &page, assessment->model, q, bytes, size, error);
    canvas_close(&page);
    return status;
}

gradin_status gradin_map_png(gradin_arena *arena, const gradin_assessment *assessment,
                             gradin_map map, int sheet, unsigned char **bytes, size_t *size,
                             gradin_error *error) {
    view v;
    if (!gradin_map_applies(assessment, map))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the assessment has no figures for the map %s",
                                gradin_map_name(map));
    if (sheet < 0 || sheet >= assessment->model->seats.n_sheet)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no sheet %d; there are %d",
                                sheet + 1, assessment->model->seats.n_sheet);
    if (!view_of(assessment->model, &v))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the model has no extent on plan");
    quantity q = quantity_of(assessment, map);
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, &v, assessment, &q, sheet, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
