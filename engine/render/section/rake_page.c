/* The page of a rake: title, verdict, section to scale, what its marks mean, table, cautions. */
#include "base/lengths.h"
#include "base/use.h"
#include "gradin/render.h"
#include "render/draw/encode.h"
#include "render/section/rake.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

#define SECTION_TOP 236.0
#define MOST_SECTION 760.0
#define KEY_HEIGHT 112.0 /* chain of dimensions and the key below the section */
#define RAKE_FOOT 150.0

static const double WIDTH = PAGE_WIDTH - 2.0 * PAGE_MARGIN;

static void find_extent(const gradin_rake *rake, double *z_low_m, double *z_high_m) {
    *z_low_m = *z_high_m = rake->focus_z_m;
    for (int k = 0; k < rake->n_row; k++) {
        double crown_m = rake->row[k].floor_m + rake->row[k].eye_height_m + 0.35;
        *z_low_m = fmin(*z_low_m, fmin(rake->row[k].floor_m, rake->row[k].floor_before_m));
        *z_high_m = fmax(*z_high_m, crown_m + fmax(rake->row[k].c_m, 0.0));
    }
}

static rake_view view_of_rake(canvas *page, const gradin_rake *rake) {
    double z_low_m, z_high_m, last_m = rake_tread_back_m(rake, rake->n_row - 1);
    find_extent(rake, &z_low_m, &z_high_m);
    double stage_m = fmin(fmax(0.15 * last_m, 0.8), 3.0);
    double scale = fmin(WIDTH / (last_m + stage_m), MOST_SECTION / (z_high_m - z_low_m));
    z_low_m -= fmax(0.35, 58.0 / scale); /* room for the numbers under the lowest tread */
    double bottom = SECTION_TOP + (z_high_m - z_low_m) * scale;
    double spare = WIDTH - (last_m + stage_m) * scale;
    rake_view v = {.page = page,
                   .rake = rake,
                   .unit_per_m = scale,
                   .left = PAGE_MARGIN + 0.5 * spare + stage_m * scale,
                   .base = bottom + z_low_m * scale,
                   .z_low_m = z_low_m,
                   .x_stage_m = -stage_m,
                   .bottom = bottom,
                   .label_every = 1};
    double row_width =
        (rake->row[rake->n_row - 1].d_m - rake->row[0].d_m) * scale / (rake->n_row - 1);
    while (v.label_every * row_width < 52.0) v.label_every++;
    v.page_height = bottom + KEY_HEIGHT + rake_table_height(rake) + RAKE_FOOT;
    return v;
}

/* The seat that governs, "" when nobody is in front of any. */
static void seat_text(const gradin_rake *rake, char *text, size_t size) {
    char got[LENGTH_CHARS];
    text[0] = '\0';
    if (rake->least_seat < 0) return;
    length_text(got, rake->least_seat_c_m, small_unit_of(rake->model->units));
    snprintf(text, size, "; seat %.100s governs with %.40s",
             rake->model->seats.id[rake->least_seat], got);
}

static void verdict_text(const gradin_rake *rake, char *text, size_t size) {
    char wanted[LENGTH_CHARS], got[LENGTH_CHARS], row[LENGTH_CHARS], seat[TEXT_CHARS / 2];
    const gradin_rake_row least = {.row = rake->least_row, .row_label = rake->least_row_label};
    rake_row_name(&least, row, sizeof row);
    length_text(wanted, rake->wanted.c_m, small_unit_of(rake->model->units));
    length_text(got, rake->least_c_m, small_unit_of(rake->model->units));
    seat_text(rake, seat, sizeof seat);
    if (rake->is_reached)
        snprintf(text, size,
                 "C %.40s is reached at every seat; least in this section %.40s, in row %.20s%s",
                 wanted, got, row, seat);
    else
        snprintf(
            text, size,
            "No setting reaches C %.40s at every seat. Best: least C %.40s in this section, in "
            "row %.20s%s. In the way: %s",
            wanted, got, row, seat, rake->hindrance);
}

static void draw_words(canvas *page, const gradin_rake *rake) {
    char text[TEXT_CHARS], step[LENGTH_CHARS];
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "Rake of block %.200s: section", rake->wanted.block);
    canvas_text_within(page, style, PAGE_MARGIN, 72.0, WIDTH, 22.0, text);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %.200s", rake->model->layout_name,
             rake->model->venue_name);
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, WIDTH, 17.0, text);
    length_text(step, rake->wanted.step_m, small_unit_of(rake->model->units));
    snprintf(text, sizeof text,
             "%s \xC2\xB7 set in steps of %.40s \xC2\xB7 through the middle of the block, to scale",
             gradin_rake_form_name(rake->wanted.form), step);
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, WIDTH, 15.0, text);
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, 164.0},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, 164.0}, COLOUR_FAINT, 1.2);
    verdict_text(rake, text, sizeof text);
    style = (text_style){.size = 24.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, 202.0, WIDTH, 15.0, text);
}

static void draw_key(const rake_view *v) {
    static const char *const line[] = {
        "Above each head: C in %s, height at which the ray from the row behind passes the eye "
        "(bold bar); \xE2\x80\x9C!\xE2\x80\x9D and a dashed ray: less than wanted.",
        "Under each tread: row, and riser N in %s. Chain: D of the first row, row depths T in %s. "
        "Dashed treads: the layout as it stands."};
    text_style style = {.size = 17.0, .ink = COLOUR_QUIET};
    const char *small = is_feet(v->rake->model->units) ? "inches" : "mm";
    for (int i = 0; i < 2; i++) {
        char text[TEXT_CHARS];
        snprintf(text, sizeof text, line[i], small, small);
        canvas_text_within(v->page, style, PAGE_MARGIN, v->bottom + 72.0 + 24.0 * i, WIDTH, 12.0,
                           text);
    }
}

static void draw_foot(const rake_view *v, double top) {
    static const char *const line[] = {
        "C = D(N+R)/(D+T) \xE2\x88\x92 R, D and R at the eye in front. Ideal N: by the row formula "
        "alone. Worst seat: least C of the row\xE2\x80\x99s seats with their real neighbours.",
        "Predicted from the layout\xE2\x80\x99s geometry. Steps, guards, egress and loads: the "
        "local "
        "code and a licensed professional decide. Nobody stands under or on moving lifts."};
    text_style style = {.size = 17.0, .ink = COLOUR_QUIET};
    char text[TEXT_CHARS];
    canvas_line(v->page, (gradin_vec2){PAGE_MARGIN, top},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, top}, COLOUR_FAINT, 1.2);
    for (int i = 0; i < 2; i++)
        canvas_text_within(v->page, style, PAGE_MARGIN, top + 30.0 + 25.0 * i, WIDTH, 12.0,
                           line[i]);
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s",
             v->rake->model->digest);
    canvas_text_within(v->page, style, PAGE_MARGIN, top + 84.0, WIDTH, 12.0, text);
}

static void draw_rake(const rake_view *v) {
    double table_top = v->bottom + KEY_HEIGHT;
    draw_words(v->page, v->rake);
    rake_draw_section(v);
    rake_draw_dimensions(v);
    draw_key(v);
    rake_draw_table(v, table_top);
    draw_foot(v, table_top + rake_table_height(v->rake) + 16.0);
}

static gradin_status encode_rake(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                                 const gradin_rake *rake, unsigned char **bytes, size_t *size,
                                 gradin_error *error) {
    char title[TEXT_CHARS];
    snprintf(title, sizeof title, "Rake of %.150s: %.200s", rake->wanted.block,
             rake->model->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Warning", "Steps, guards, egress and loads: the local code and a "
                                            "licensed professional decide. Nobody stands under or "
                                            "on moving lifts."},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", rake->model->layout_name},
                                {"Quantity", "C-value (mm)"},
                                {"Source", rake->model->digest}};
    return encode_picture(arena, scratch, page, note, (int)(sizeof note / sizeof note[0]), bytes,
                          size, error);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, const gradin_rake *rake,
                            gradin_picture format, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    canvas page;
    rake_view v = view_of_rake(&page, rake);
    gradin_status status =
        canvas_open_as(&page, scratch, format, PAGE_WIDTH, v.page_height, 1.0, error);
    if (status == GRADIN_OK) {
        draw_rake(&v);
        status = canvas_status(&page, error);
    }
    if (status == GRADIN_OK) status = encode_rake(arena, scratch, &page, rake, bytes, size, error);
    canvas_close(&page);
    return status;
}

gradin_status gradin_rake_picture(gradin_arena *arena, const gradin_rake *rake,
                                  gradin_picture format, unsigned char **bytes, size_t *size,
                                  gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || rake_complete(rake, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (rake->n_row < 2) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a rake of no rows");
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, rake, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
