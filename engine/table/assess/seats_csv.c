/* The seat table. RFC 4180: cells divided by commas, lines ended by CR LF, a cell with a comma, a
 * quote or a line break in quotes, a quote inside doubled. The columns are the same for every
 * layout, but for those of the focus areas where it has several; a figure that does not apply
 * leaves its cell empty. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/assess/of_seat.h"
#include "table/shared/names.h"
#include "table/shared/text.h"

#include <stdio.h>
#include <string.h>

/* One pass over the columns writes one line: the names (seat -1) or the cells of a seat. So a
 * column's name and its figure stand side by side in the code and cannot drift apart. */
typedef struct line {
    table_text *text;
    const gradin_assessment *a;
    int seat;
    int n_cell;
} line;

static void begin_cell(line *l) {
    if (l->n_cell++ > 0) table_put(l->text, ",");
}

static void text_cell(line *l, const char *name, text_of *value) {
    begin_cell(l);
    const char *piece = l->seat < 0 ? name : value(l->a, l->seat);
    if (piece) table_put_quoted(l->text, piece);
}

static void number_cell(line *l, const char *name, table_quantity quantity, number_of *value) {
    begin_cell(l);
    if (l->seat < 0)
        table_put_columns(l->text, name);
    else
        table_put_number(l->text, quantity, value(l->a, l->seat));
}

/* A figure of value[n_seat] times scale; value NULL leaves the cell empty. */
static void array_cell(line *l, const char *name, table_quantity quantity, const double *value,
                       double scale) {
    begin_cell(l);
    if (l->seat < 0)
        table_put_columns(l->text, name);
    else if (value)
        table_put_number(l->text, quantity, scale * value[l->seat]);
}

/* The house's own label; the number where it gives none. */
static void label_cell(line *l, const char *name, text_of *label, number_of *number) {
    begin_cell(l);
    const char *piece = l->seat < 0 ? name : label(l->a, l->seat);
    if (piece)
        table_put_quoted(l->text, piece);
    else
        table_put_number(l->text, TABLE_COUNT, number(l->a, l->seat));
}

static const char *reason_of(const gradin_assessment *a, int i) {
    return gradin_reason_name(a->sight.reason[i]);
}
static const char *c_case_of(const gradin_assessment *a, int i) {
    return gradin_c_case_name(a->sight.c_case[i]);
}
/* Empty where nobody is in front. */
static const char *c_class_of(const gradin_assessment *a, int i) {
    gradin_rating c_class = a->sight.c_class[i];
    return c_class < GRADIN_N_RATING ? gradin_rating_name(c_class) : NULL;
}
/* The line to which C was measured. */
static const char *c_line_of(const gradin_assessment *a, int i) {
    int area = a->sight.c_area[i];
    if (area >= 0) return a->model->focus[area].name;
    return a->model->c_line ? a->model->c_line->name : NULL;
}
static const char *front_seat_of(const gradin_assessment *a, int i) {
    int front = a->sight.front_seat[i];
    return front >= 0 ? a->model->seats.id[front] : NULL;
}
static const char *rail_of(const gradin_assessment *a, int i) {
    int rail = a->sight.rail ? a->sight.rail[i] : -1;
    return rail >= 0 ? a->model->rail[rail].name : NULL;
}
static const char *noise_verdict_of(const gradin_assessment *a, int i) {
    if (!a->has_noise || a->noise.verdict[i] == GRADIN_VERDICT_NONE) return NULL;
    return gradin_verdict_name(a->noise.verdict[i]);
}
static double x_of(const gradin_assessment *a, int i) {
    return a->model->seats.floor_m[i].x;
}
static double y_of(const gradin_assessment *a, int i) {
    return a->model->seats.floor_m[i].y;
}
static double floor_of(const gradin_assessment *a, int i) {
    return a->model->seats.floor_m[i].z;
}
static double eye_of(const gradin_assessment *a, int i) {
    return a->model->seats.eye_m[i].z;
}
/* Rounded as it is printed before it is wrapped: 359.96 is 0.0, as north is. */
static double facing_of(const gradin_assessment *a, int i) {
    return gradin_wrap_360_deg(nearbyint(10.0 * a->model->seats.facing_deg[i]) / 10.0);
}
static double worst_hidden_of(const gradin_assessment *a, int i) {
    return a->sight.worst_occluder[i] == -1 ? NAN : 100.0 * a->sight.worst_hidden[i];
}

static void put_place(line *l) {
    text_cell(l, "seat", of_seat_id);
    text_cell(l, "block", of_seat_block);
    text_cell(l, "level", of_seat_level);
    label_cell(l, "row", of_seat_row_label, of_seat_row);
    label_cell(l, "number", of_seat_seat_label, of_seat_number);
    text_cell(l, "kind", of_seat_kind);
    number_cell(l, "x_m", TABLE_METRE, x_of);
    number_cell(l, "y_m", TABLE_METRE, y_of);
    number_cell(l, "floor_z_m", TABLE_METRE, floor_of);
    number_cell(l, "eye_z_m", TABLE_METRE, eye_of);
    number_cell(l, "facing_deg", TABLE_DEGREE, facing_of);
}

static void put_hidden(line *l) {
    for (int cause = 0; cause < GRADIN_N_CAUSE; cause++) {
        begin_cell(l);
        if (l->seat < 0)
            table_print(l->text, "hidden_%s_pct", gradin_cause_name((gradin_cause)cause));
        else
            table_put_number(
                l->text, TABLE_PERCENT,
                100.0 * l->a->sight.hidden[(size_t)l->seat * GRADIN_N_CAUSE + (size_t)cause]);
    }
    text_cell(l, "worst_occluder", table_worst_occluder);
    number_cell(l, "worst_hidden_pct", TABLE_PERCENT, worst_hidden_of);
}

/* Each focus area by itself, where there are several. */
static void put_areas(line *l) {
    for (int k = 0; k < l->a->n_area; k++) {
        char name[320];
        snprintf(name, sizeof name, "visible_%s_pct", l->a->model->focus[k].name);
        begin_cell(l);
        if (l->seat < 0)
            table_put_quoted(l->text, name);
        else
            table_put_number(l->text, TABLE_PERCENT, 100.0 * l->a->area[k].visible[l->seat]);
    }
}

static double no_eye_of(const gradin_assessment *a, int i) {
    const gradin_sight *s = &a->sight;
    return s->both_eyes ? 100.0 * fmax(0.0, 1.0 - s->both_eyes[i] - s->one_eye[i]) : NAN;
}

static void put_real_people(line *l) {
    const gradin_sight *s = &l->a->sight;
    const gradin_crowd *c = &l->a->crowd;
    array_cell(l, "both_eyes_pct", TABLE_PERCENT, s->both_eyes, 100.0);
    array_cell(l, "one_eye_pct", TABLE_PERCENT, s->one_eye, 100.0);
    number_cell(l, "no_eye_pct", TABLE_PERCENT, no_eye_of);
    array_cell(l, "clear_view_pct", TABLE_PERCENT, c->clear, 100.0);
    array_cell(l, "clear_view_se_pct", TABLE_PERCENT, c->clear_se, 100.0);
    array_cell(l, "drawn_median_pct", TABLE_PERCENT, c->median, 100.0);
    array_cell(l, "drawn_p10_pct", TABLE_PERCENT, c->p10, 100.0);
}

static void put_c_value(line *l) {
    const gradin_sight *s = &l->a->sight;
    text_cell(l, "c_class", c_class_of);
    text_cell(l, "c_case", c_case_of);
    text_cell(l, "c_line", c_line_of);
    array_cell(l, "c_mm", TABLE_MILLIMETRE, s->c_m, 1000.0);
    array_cell(l, "c_d_m", TABLE_METRE, s->d_m, 1.0);
    array_cell(l, "c_n_mm", TABLE_MILLIMETRE, s->n_m, 1000.0);
    array_cell(l, "c_r_m", TABLE_METRE, s->r_m, 1.0);
    array_cell(l, "c_t_m", TABLE_METRE, s->t_m, 1.0);
    array_cell(l, "c_row_mm", TABLE_MILLIMETRE, s->c_row_m, 1000.0);
    array_cell(l, "c_two_ahead_mm", TABLE_MILLIMETRE, s->c_two_m, 1000.0);
    text_cell(l, "front_seat", front_seat_of);
    array_cell(l, "window_deg", TABLE_DEGREE, s->window_deg, 1.0);
}

static void put_over(line *l) {
    const gradin_clearance *rail = &l->a->sight.over_rail, *up = &l->a->sight.over_standing;
    text_cell(l, "rail", rail_of);
    array_cell(l, "rail_c_mm", TABLE_MILLIMETRE, rail->c_m, 1000.0);
    array_cell(l, "rail_d_m", TABLE_METRE, rail->d_m, 1.0);
    array_cell(l, "rail_n_mm", TABLE_MILLIMETRE, rail->n_m, 1000.0);
    array_cell(l, "rail_r_m", TABLE_METRE, rail->r_m, 1.0);
    array_cell(l, "rail_t_m", TABLE_METRE, rail->t_m, 1.0);
    array_cell(l, "standing_c_mm", TABLE_MILLIMETRE, up->c_m, 1000.0);
    array_cell(l, "standing_d_m", TABLE_METRE, up->d_m, 1.0);
    array_cell(l, "standing_n_mm", TABLE_MILLIMETRE, up->n_m, 1000.0);
    array_cell(l, "standing_r_m", TABLE_METRE, up->r_m, 1.0);
    array_cell(l, "standing_t_m", TABLE_METRE, up->t_m, 1.0);
}

static void put_angles(line *l) {
    const gradin_sight *s = &l->a->sight;
    array_cell(l, "distance_m", TABLE_METRE, s->distance_m, 1.0);
    array_cell(l, "nearest_m", TABLE_METRE, s->nearest_m, 1.0);
    array_cell(l, "off_axis_deg", TABLE_DEGREE, s->off_axis_deg, 1.0);
    array_cell(l, "down_deg", TABLE_DEGREE, s->down_deg, 1.0);
    array_cell(l, "head_turn_deg", TABLE_DEGREE, s->turn_deg, 1.0);
    array_cell(l, "focus_width_deg", TABLE_DEGREE, s->width_deg, 1.0);
}

/* All NULL when no overflight was assessed. */
static const gradin_noise *noise_of(const line *l) {
    static const gradin_noise none;
    return l->a->has_noise ? &l->a->noise : &none;
}

static void put_levels(line *l) {
    const gradin_noise *n = noise_of(l);
    bool shades = table_has_shades(l->a);
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        array_cell(l, table_maximum_key(n->weighting, k), TABLE_DECIBEL,
                   k == GRADIN_SHADES_AS_SET || shades ? n->lamax_db[k] : NULL, 1.0);
    array_cell(l, "level_systematic_db", TABLE_DECIBEL, n->systematic_db, 1.0);
    array_cell(l, "level_uncertainty_db", TABLE_DECIBEL, n->uncertainty_db, 1.0);
    array_cell(l, "laeq_dba", TABLE_DECIBEL, n->laeq_db, 1.0);
    array_cell(l, "nc", TABLE_NOISE_CRITERION, n->nc, 1.0);
    array_cell(l, "noise_excess_db", TABLE_DECIBEL, n->excess_db, 1.0);
    text_cell(l, "noise_verdict", noise_verdict_of);
    text_cell(l, "loudest_element", table_loudest_element);
}

static void put_bands(line *l) {
    const double *level = noise_of(l)->band_db;
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        begin_cell(l);
        if (l->seat < 0)
            table_print(l->text, "l_%d_hz_db", gradin_band_nominal_hz(band));
        else if (level)
            table_put_number(l->text, TABLE_DECIBEL,
                             level[(size_t)l->seat * GRADIN_N_BAND + (size_t)band]);
    }
}

static void put_line(table_text *text, const gradin_assessment *a, int seat) {
    line l = {text, a, seat, 0};
    put_place(&l);
    text_cell(&l, "rating", of_seat_rating);
    text_cell(&l, "reason", reason_of);
    array_cell(&l, "visible_pct", TABLE_PERCENT, a->sight.visible, 100.0);
    put_areas(&l);
    put_hidden(&l);
    put_real_people(&l);
    put_c_value(&l);
    put_over(&l);
    put_angles(&l);
    put_levels(&l);
    put_bands(&l);
    array_cell(&l, "lamax_predicted_dba", TABLE_DECIBEL, noise_of(&l)->lamax_predicted_db, 1.0);
    table_put(text, "\r\n");
}

gradin_status gradin_seats_csv(gradin_arena *arena, const gradin_assessment *assessment,
                               gradin_csv_units units, char **text, size_t *size,
                               gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    for (int seat = -1; seat < assessment->sight.n_seat; seat++) put_line(&out, assessment, seat);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the seat table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
