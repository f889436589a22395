/* The whole page: title, plan, scale strip, legend, views from outside, foot; and pages as files.
 */
#include "render/maps/page.h"

#include "render/draw/doubt.h"
#include "render/draw/encode.h"
#include "render/maps/legend.h"
#include "render/maps/outlook_page.h"
#include "render/maps/seats.h"

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

static void sheet_text(const gradin_model *model, int sheet, char *text, size_t size) {
    const gradin_seats *seats = &model->seats;
    if (seats->n_sheet < 2)
        text[0] = '\0';
    else
        snprintf(text, size, " \xC2\xB7 sheet %d of %d, with %d of them", sheet + 1, seats->n_sheet,
                 seats_on(seats, sheet));
}

static void draw_title(canvas *page, const view *v, const quantity *q, int sheet) {
    const gradin_model *model = q->model;
    char text[2 * TEXT_CHARS], on_sheet[200];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    quantity_heading(q, text, sizeof text);
    if (model->seats.n_sheet > 1)
        snprintf(text + strlen(text), sizeof text - strlen(text), ": %.120s",
                 model->sheet_name[sheet]);
    canvas_text_within(page, style, PAGE_MARGIN, 72.0, width, 22.0, text);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %.200s", model->layout_name, model->venue_name);
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, width, 17.0, text);
    sheet_text(model, sheet, on_sheet, sizeof on_sheet);
    snprintf(text, sizeof text, "%s \xC2\xB7 %d places, %d of them for wheelchairs%s%s%s",
             form_name(model->form), model->seats.n_seat, model->seats.n_wheelchair, on_sheet,
             q->context[0] ? " \xC2\xB7 " : "", q->context);
    if (seats_are_bare(page, v, q, sheet))
        snprintf(text + strlen(text), sizeof text - strlen(text),
                 " \xC2\xB7 where a figure would be too small to read, the colour alone shows it");
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, width, 15.0, text);
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, 164.0},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, 164.0}, COLOUR_FAINT, 1.2);
}

static void caution_text(const quantity *q, char *text, size_t size) {
    if (!q->is_noise) {
        snprintf(text, size,
                 "Predicted from the layout's geometry, not measured. Rails and guards: local code "
                 "and a licensed professional decide. A seat's rating never justifies a lower or "
                 "missing guard.");
        return;
    }
    doubt_text(q->doubt.systematic_db, q->doubt.scatter_db, text, size);
}

static void draw_foot(canvas *page, const view *v, const quantity *q) {
    char text[TEXT_CHARS], source[64] = "";
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, v->foot_top},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, v->foot_top}, COLOUR_FAINT, 1.2);
    caution_text(q, text, sizeof text);
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    double y = canvas_text_wrapped(page, style, PAGE_MARGIN, v->foot_top + 28.0, width, text);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    if (q->beside_digest)
        snprintf(source, sizeof source, " \xC2\xB7 beside digest %.32s", q->beside_digest);
    if (q->source_digest)
        snprintf(source, sizeof source, " \xC2\xB7 traffic digest %.32s", q->source_digest);
    snprintf(text, sizeof text,
             "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s%s \xC2\xB7 north is up",
             q->model->digest, source);
    canvas_text_within(page, style, PAGE_MARGIN, y + 4.0, width, 13.0, text);
}

static void draw_page(easel *e, const quantity *q) {
    canvas *page = &e->page;
    const view *v = &e->v;
    draw_title(page, v, q, e->sheet);
    seats_draw(page, v, q, e->sheet);
    easel_end(e, q);
    legend_draw_scale_strip(page, v, q->model);
    legend_draw_scale(page, v, q, e->sheet);
    legend_draw_symbols(page, v, q, e->sheet);
    if (q->outlook) outlook_views_draw(page, v->legend_top + LEGEND_HEIGHT, q->outlook);
    draw_foot(page, v, q);
}

static gradin_status encode_page(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                                 const quantity *q, int sheet, unsigned char **bytes, size_t *size,
                                 gradin_error *error) {
    char name[160], title[TEXT_CHARS];
    quantity_heading(q, name, sizeof name);
    snprintf(title, sizeof title, "%s: %.200s", q->title, q->model->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", q->model->layout_name},
                                {"Quantity", name},
                                {"Source", q->model->digest},
                                {"Level", q->model->sheet_name[sheet]},
                                {"Traffic", q->source_digest}};
    return encode_picture(arena, scratch, page, note, q->source_digest ? 7 : 6, bytes, size, error);
}

static gradin_status draw_on(gradin_arena *arena, easel *e, const quantity *q, int sheet,
                             unsigned char **bytes, size_t *size, gradin_error *error) {
    view v;
    if (sheet < 0 || sheet >= q->model->seats.n_sheet)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no sheet %d; there are %d",
                                sheet + 1, q->model->seats.n_sheet);
    if (!view_keeping(q->model, q->outlook ? outlook_views_height(q->outlook) : 0.0, &v))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the model has no extent on plan");
    gradin_status status = easel_begin(e, &v, q, sheet, error);
    if (status != GRADIN_OK) return status;
    draw_page(e, q);
    status = canvas_status(&e->page, error);
    if (status != GRADIN_OK) return status;
    return encode_page(arena, e->scratch, &e->page, q, sheet, bytes, size, error);
}

gradin_status page_png(gradin_arena *arena, const quantity *q, int sheet, unsigned char **bytes,
                       size_t *size, gradin_error *error) {
    easel e;
    gradin_status status = easel_open(&e, error);
    if (status == GRADIN_OK) status = draw_on(arena, &e, q, sheet, bytes, size, error);
    easel_close(&e);
    return status;
}

enum { LEVEL_CHARS = 42 };

/* "-upper_gallery": letters and figures of ASCII, anything between them as one low line; "" when
 * nothing is left. */
static const char *level_in_name(const char *level, char name[LEVEL_CHARS]) {
    static const char kept[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    size_t n = 0;
    bool is_between = false;
    for (; level && *level != '\0' && n + 2 < LEVEL_CHARS - 1; level++) {
        bool is_kept = strchr(kept, *level) != NULL;
        if (is_kept && n == 0)
            name[n++] = '-';
        else if (is_kept && is_between)
            name[n++] = '_';
        if (is_kept) name[n++] = *level;
        is_between = !is_kept;
    }
    name[n] = '\0';
    return name;
}

static const char *path_of(gradin_arena *arena, const quantity *q, const char *dir,
                           const char *stem, int sheet) {
    static const char *const ending[GRADIN_N_PICTURE] = {"png", "svg", "pdf"};
    char name[LEVEL_CHARS];
    if (q->model->seats.n_sheet < 2)
        return gradin_arena_print(arena, "%s/%s.%s", dir, stem, ending[q->format]);
    return gradin_arena_print(arena, "%s/%s-sheet%d%s.%s", dir, stem, sheet + 1,
                              level_in_name(q->model->sheet_name[sheet], name), ending[q->format]);
}

gradin_status page_write(easel *e, const quantity *q, int sheet, const char *dir, const char *stem,
                         int *n_written, gradin_error *error) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    if (quantity_is_even(q)) return GRADIN_OK;
    gradin_status status = draw_on(e->scratch, e, q, sheet, &bytes, &size, error);
    if (status != GRADIN_OK) return status;
    const char *path = path_of(e->scratch, q, dir, stem, sheet);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    status = gradin_write_file(path, bytes, size, error);
    *n_written += status == GRADIN_OK;
    return status;
}

gradin_status page_note_left_out(left_out *so_far, const quantity *q, gradin_error *error) {
    char line[240];
    if (!quantity_is_even(q)) return GRADIN_OK;
    quantity_even_text(q, line, sizeof line);
    char *longer = gradin_arena_print(so_far->arena, "%s%s\n", so_far->text, line);
    if (!longer) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a text");
    so_far->text = longer;
    return GRADIN_OK;
}

const char *page_band_stem(const gradin_band_level *band, char stem[32]) {
    snprintf(stem, 32, "%s_%dhz", band->is_octave ? "octave" : "third", band->nominal_hz);
    return stem;
}
