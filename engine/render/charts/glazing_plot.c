/* Build-ups compared on one page: R against frequency, below it predicted less measured, a legend
 * with the ratings. Measured curves are thick with full markers, predicted ones thin with hollow
 * markers; marker and dashes tell build-ups apart in greyscale. */
#include "base/use.h"
#include "gradin/render.h"
#include "render/charts/chart.h"
#include "render/draw/encode.h"
#include "render/draw/view.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

#define CHART_LEFT 130.0
#define CHART_TOP 180.0
#define CHART_HEIGHT 720.0
#define DIFFERENCE_HEIGHT 290.0
#define LEGEND_ROW 40.0
#define SHEET_FOOT 130.0
#define AXIS_SPACE 92.0

/* As far apart in lightness as in hue, each at 3:1 or more on white (WCAG 2.1, 1.4.11). */
static const colour curve_ink[CHART_N_SHAPE] = {{0.05, 0.16, 0.36}, {0.76, 0.34, 0.02},
                                                {0.00, 0.50, 0.46}, {0.48, 0.14, 0.46},
                                                {0.45, 0.45, 0.10}, {0.35, 0.35, 0.35}};

static chart_style style_of(int index, bool is_measured) {
    int again = index / CHART_N_SHAPE;
    return (chart_style){.shape = index % CHART_N_SHAPE,
                         .dash = 2 * (again % 2) + index % 2,
                         .is_filled = is_measured,
                         .width = is_measured ? 4.5 : 2.6,
                         .ink = curve_ink[index % CHART_N_SHAPE]};
}

/* Octaves are drawn at their own bands only. */
static void points_of(const gradin_glazed_curve *curve, double *db) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        db[b] = curve->is_octave && b % 3 != 1 ? NAN : curve->r_db[b];
}

static void widen(const double *db, double *low_db, double *high_db) {
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        if (!isfinite(db[b])) continue;
        *low_db = fmin(*low_db, db[b]);
        *high_db = fmax(*high_db, db[b]);
    }
}

static void draw_curves(canvas *page, const gradin_glazing_sheet *sheet, gradin_box2 box) {
    double low_db = 20.0, high_db = 40.0, db[GRADIN_N_BAND];
    for (int i = 0; i < sheet->n_glazed; i++) {
        widen(sheet->glazed[i].predicted.r_db, &low_db, &high_db);
        widen(sheet->glazed[i].measured.r_db, &low_db, &high_db);
    }
    chart c = {page, box, 10.0 * floor((low_db - 1.0) / 10.0), 10.0 * ceil((high_db + 1.0) / 10.0)};
    chart_axes(&c, 5.0, "sound reduction index R, dB", true);
    for (int i = 0; i < sheet->n_glazed; i++) {
        const gradin_glazed *g = &sheet->glazed[i];
        points_of(&g->predicted, db);
        if (g->predicted.is_given) chart_curve(&c, style_of(i, false), db);
        points_of(&g->measured, db);
        if (g->measured.is_given) chart_curve(&c, style_of(i, true), db);
    }
}

static bool has_difference(const gradin_glazing_sheet *sheet) {
    for (int i = 0; i < sheet->n_glazed; i++)
        if (isfinite(sheet->glazed[i].mean_abs_db)) return true;
    return false;
}

static void draw_differences(canvas *page, const gradin_glazing_sheet *sheet, gradin_box2 box) {
    double low_db = -4.0, high_db = 4.0;
    for (int i = 0; i < sheet->n_glazed; i++)
        widen(sheet->glazed[i].difference_db, &low_db, &high_db);
    double most_db = 5.0 * ceil((fmax(-low_db, high_db) + 0.5) / 5.0);
    chart c = {page, box, -most_db, most_db};
    chart_axes(&c, most_db > 10.0 ? 10.0 : 5.0, "predicted \xE2\x88\x92 measured, dB", false);
    double zero = chart_y(&c, 0.0);
    canvas_line(page, (gradin_vec2){box.x_min_m, zero}, (gradin_vec2){box.x_max_m, zero},
                COLOUR_INK, 1.6);
    for (int i = 0; i < sheet->n_glazed; i++)
        if (isfinite(sheet->glazed[i].mean_abs_db))
            chart_curve(&c, style_of(i, false), sheet->glazed[i].difference_db);
}

typedef enum legend_column { KIND, RW, ENLARGED, STC, OITC, MASS, N_LEGEND_COLUMN } legend_column;

static const struct {
    const char *head;
    double right; /* edge */
} legend[N_LEGEND_COLUMN] = {{"", 850.0},
                             {"Rw (C; Ctr), dB", 1035.0},
                             {"C50-5000; Ctr,50-5000, dB", 1375.0},
                             {"STC", 1470.0},
                             {"OITC", 1565.0},
                             {"mass, kg/m\xC2\xB2", 1740.0}};

static void cell_text(const gradin_glazed *g, bool is_measured, legend_column column, char *text,
                      size_t size) {
    const gradin_glazed_curve *curve = is_measured ? &g->measured : &g->predicted;
    const gradin_ratings *r = &curve->ratings;
    const gradin_enlarged *e = &r->enlarged[GRADIN_RANGE_50_5000];
    snprintf(text, size, "-");
    if (column == KIND)
        snprintf(text, size, "%s%s", is_measured ? gradin_basis_name(g->buildup) : "predicted",
                 curve->is_octave ? ", octaves" : "");
    else if (column == RW && r->has_rw)
        snprintf(text, size, "%d (%d; %d)", r->rw.rating_db, r->rw.c_db, r->rw.ctr_db);
    else if (column == ENLARGED && e->applies)
        snprintf(text, size, "%d; %d", e->c_db, e->ctr_db);
    else if (column == STC && r->has_stc)
        snprintf(text, size, "%d", r->stc);
    else if (column == OITC && r->has_oitc)
        snprintf(text, size, "%d", r->oitc);
    else if (column == MASS && isfinite(g->mass_kgm2))
        gradin_format_fixed(text, size, g->mass_kgm2, 1);
}

static void draw_legend_head(canvas *page, double y) {
    text_style style = {.size = 19.0, .align = TEXT_RIGHT, .ink = COLOUR_QUIET};
    for (int k = 0; k < N_LEGEND_COLUMN; k++)
        canvas_text(page, style, legend[k].right, y, legend[k].head);
}

static void draw_legend_row(canvas *page, const gradin_glazed *g, int index, bool is_measured,
                            double y) {
    char text[64];
    text_style style = {.size = 21.0, .ink = COLOUR_INK};
    chart_sample(page, style_of(index, is_measured), PAGE_MARGIN, y - 7.0, 110.0);
    canvas_text_within(page, style, PAGE_MARGIN + 130.0, y, 560.0, 15.0, g->buildup->name);
    style.align = TEXT_RIGHT;
    for (int k = 0; k < N_LEGEND_COLUMN; k++) {
        cell_text(g, is_measured, (legend_column)k, text, sizeof text);
        canvas_text(page, style, legend[k].right, y, text);
    }
}

static int count_curves(const gradin_glazing_sheet *sheet) {
    int n = 0;
    for (int i = 0; i < sheet->n_glazed; i++)
        n += sheet->glazed[i].predicted.is_given + sheet->glazed[i].measured.is_given;
    return n;
}

static void draw_legend(canvas *page, const gradin_glazing_sheet *sheet, double y) {
    draw_legend_head(page, y);
    for (int i = 0; i < sheet->n_glazed; i++) {
        const gradin_glazed *g = &sheet->glazed[i];
        if (g->predicted.is_given) draw_legend_row(page, g, i, false, y += LEGEND_ROW);
        if (g->measured.is_given) draw_legend_row(page, g, i, true, y += LEGEND_ROW);
    }
}

static void add_piece(char *text, size_t size, const char *before, const char *value,
                      const char *after) {
    size_t used = strlen(text);
    snprintf(text + used, size - used, "%s%.60s%s", before, value, after);
}

/* The one temperature of all interlayers that state one; NAN when none does or they differ. */
static double common_temperature_c(const gradin_glazing_sheet *sheet) {
    double common_c = NAN;
    for (int i = 0; i < sheet->n_glazed; i++) {
        const gradin_glazed *g = &sheet->glazed[i];
        if (isnan(g->shear_pa)) continue;
        if (isfinite(common_c) && g->buildup->temperature_c != common_c) return NAN;
        common_c = g->buildup->temperature_c;
    }
    return common_c;
}

/* What the predicted curves stand for beyond the plain method; false when nothing. */
static bool describe(const gradin_glazing_sheet *sheet, char *text, size_t size) {
    char number[32];
    const gradin_glazing_view *shown = &sheet->view;
    double temperature_c = common_temperature_c(sheet);
    snprintf(text, size, "predicted");
    size_t bare = strlen(text);
    if (sheet->fit) add_piece(text, size, "; constants fitted to ", sheet->fit->buildup->name, "");
    if (isfinite(temperature_c)) {
        gradin_format_fixed(number, sizeof number, temperature_c, 0);
        add_piece(text, size, "; interlayers at ", number,
                  " \xC2\xB0"
                  "C");
    }
    if (shown->width_m > 0.0) {
        gradin_format_fixed(number, sizeof number, shown->width_m, 2);
        add_piece(text, size, "; panes of ", number, " m");
        gradin_format_fixed(number, sizeof number, shown->height_m, 2);
        add_piece(text, size, " by ", number, " m");
    }
    if (shown->shade) add_piece(text, size, "; shade ", shown->shade->name, " shut");
    gradin_format_fixed(number, sizeof number, GRADIN_IN_PLACE_JOINT_DB, 0);
    if (shown->is_in_place) add_piece(text, size, "; in place, joint of ", number, " dB a metre");
    return strlen(text) > bare;
}

static void draw_title(canvas *page, const gradin_glazing_sheet *sheet) {
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text(page, style, PAGE_MARGIN, 72.0, "Sound reduction index of build-ups");
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, width, 17.0, sheet->source->source);
    char text[TEXT_CHARS];
    if (!describe(sheet, text, sizeof text)) return;
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, width, 15.0, text);
}

static void draw_foot(canvas *page, const gradin_glazing_sheet *sheet, double top) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, top}, (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, top},
                COLOUR_FAINT, 1.2);
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    double y = canvas_text_wrapped(
        page, style, PAGE_MARGIN, top + 30.0, width,
        sheet->view.width_m > 0.0 || sheet->view.is_in_place
            ? "Predicted: diffuse incidence; other leaks are not in it. A measurement is better. "
              "Ratings by ISO 717-1, ASTM E413 and ASTM E1332."
            : "Predicted: a tight pane of the usual sample, 1.25 m by 1.5 m, under diffuse "
              "incidence; leaks are not in it. A measurement is better. Ratings by ISO 717-1, ASTM "
              "E413 and ASTM E1332.");
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s",
             sheet->source->digest);
    canvas_text(page, style, PAGE_MARGIN, y + 4.0, text);
}

static double draw_charts(canvas *page, const gradin_glazing_sheet *sheet) {
    gradin_box2 box = {CHART_LEFT, CHART_TOP, PAGE_WIDTH - PAGE_MARGIN, CHART_TOP + CHART_HEIGHT};
    draw_curves(page, sheet, box);
    if (!has_difference(sheet)) return box.y_max_m + AXIS_SPACE;
    box.y_min_m = box.y_max_m + AXIS_SPACE;
    box.y_max_m = box.y_min_m + DIFFERENCE_HEIGHT;
    draw_differences(page, sheet, box);
    return box.y_max_m + 30.0;
}

static double page_height(const gradin_glazing_sheet *sheet) {
    double charts = CHART_TOP + CHART_HEIGHT + AXIS_SPACE;
    if (has_difference(sheet)) charts += DIFFERENCE_HEIGHT + 30.0;
    return charts + LEGEND_ROW * (count_curves(sheet) + 2) + SHEET_FOOT;
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch,
                            const gradin_glazing_sheet *sheet, gradin_picture format,
                            unsigned char **bytes, size_t *size, gradin_error *error) {
    canvas page;
    double height = page_height(sheet);
    gradin_status status = canvas_open_as(&page, scratch, format, PAGE_WIDTH, height, 1.0, error);
    if (status == GRADIN_OK) {
        draw_title(&page, sheet);
        draw_legend(&page, sheet, draw_charts(&page, sheet) + LEGEND_ROW);
        draw_foot(&page, sheet, height - SHEET_FOOT);
        status = canvas_status(&page, error);
    }
    const encode_note note[] = {{"Title", "Sound reduction index of build-ups"},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", sheet->source->source},
                                {"Quantity", "sound reduction index, dB"},
                                {"Source", sheet->source->digest}};
    if (status == GRADIN_OK)
        status = encode_picture(arena, scratch, &page, note, (int)(sizeof note / sizeof note[0]),
                                bytes, size, error);
    canvas_close(&page);
    return status;
}

gradin_status gradin_glazing_picture(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                     gradin_picture format, unsigned char **bytes, size_t *size,
                                     gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        sheet_complete(sheet, error) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, sheet, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
