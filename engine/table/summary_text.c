/* The one-screen summary for a terminal: at most 100 columns. Lengths follow the layout's units. */
#include "gradin/table.h"
#include "table/buffer.h"
#include "table/cautions.h"

#include <stdio.h>
#include <string.h>

/* Lengths of the summary: "m" with the scale 1, or "ft". */
typedef struct units {
    const char *length, *c_value;
    double length_scale, c_scale;
    int c_decimals;
} units;

static units units_of(const gradin_model *m) {
    bool is_feet = m->units && strcmp(m->units, "ft") == 0;
    return is_feet ? (units){"ft", "in", 1.0 / GRADIN_FOOT_M, 12.0 / GRADIN_FOOT_M, 1}
                   : (units){"m", "mm", 1.0, 1000.0, 0};
}

/* ---- head and sightlines
 * -------------------------------------------------------------------------------------- */

static void add_head(buffer *b, const gradin_assessment *a) {
    const gradin_seats *s = &a->model->seats;
    buffer_print(b, "%.60s, %.36s\n", a->model->layout_name, a->model->venue_name);
    buffer_print(b, "%s; %d places, of these %d wheelchair and %d companion\n\n",
                 gradin_form_name(a->model->form), s->n_seat, s->n_wheelchair, s->n_companion);
}

static void add_ratings(buffer *b, const gradin_assessment *a) {
    buffer_add(b, "rating  ");
    for (int i = 0; i < GRADIN_N_RATING; i++) {
        double share_pct = 100.0 * a->sight.n_rating[i] / a->sight.n_seat;
        buffer_print(b, "%s%s %d (", i ? "   " : "", gradin_rating_name((gradin_rating)i),
                     a->sight.n_rating[i]);
        buffer_add_number(b, share_pct, 0);
        buffer_add(b, " %)");
    }
    buffer_add(b, "\n\n");
}

static void add_spread(buffer *b, const char *name, gradin_spread s, double scale, int decimals) {
    const double value[5] = {s.least, s.p10, s.median, s.p90, s.most};
    buffer_print(b, "%-34s", name);
    for (int i = 0; i < 5; i++) buffer_add_padded(b, value[i] * scale, decimals, 9);
    buffer_add(b, "\n");
}

static void add_sight(buffer *b, const gradin_assessment *a) {
    char name[64];
    units u = units_of(a->model);
    buffer_print(b, "%-34s%9s%9s%9s%9s%9s\n", "", "least", "10 %", "median", "90 %", "most");
    add_spread(b, "focus visible, %", a->visible, 100.0, 1);
    snprintf(name, sizeof name, "C-value, %s", u.c_value);
    add_spread(b, name, a->c_value_m, u.c_scale, u.c_decimals);
    snprintf(name, sizeof name, "eye to focus centroid, %s", u.length);
    add_spread(b, name, a->distance_m, u.length_scale, 1);
}

/* ---- worst seats
 * ------------------------------------------------------------------------------------------------
 */

static gradin_cause main_cause(const gradin_sight *s, int seat) {
    int most = 0;
    for (int i = 1; i < GRADIN_N_CAUSE; i++)
        if (s->hidden[seat * GRADIN_N_CAUSE + i] > s->hidden[seat * GRADIN_N_CAUSE + most])
            most = i;
    return (gradin_cause)most;
}

static void add_hidden(buffer *b, const gradin_assessment *a, int seat) {
    const gradin_sight *s = &a->sight;
    int name = s->worst_occluder[seat];
    if (name < 0) return;
    gradin_cause cause = main_cause(s, seat);
    buffer_print(b, "; %s hide ",
                 cause == GRADIN_CAUSE_ARCH ? "arch panels" : gradin_cause_name(cause));
    buffer_add_number(b, 100.0 * s->hidden[seat * GRADIN_N_CAUSE + (int)cause], 0);
    buffer_print(b, " %%, most by %.24s (", a->model->occluder_name[name]);
    buffer_add_number(b, 100.0 * s->worst_hidden[seat], 0);
    buffer_add(b, " %)");
}

static void add_worst_seat(buffer *b, const gradin_assessment *a, int seat) {
    const gradin_sight *s = &a->sight;
    buffer_print(b, "  %-20.20s %-5s %-17s sees", a->model->seats.id[seat],
                 gradin_rating_name(s->rating[seat]), gradin_reason_name(s->reason[seat]));
    buffer_add_padded(b, 100.0 * s->visible[seat], 0, 4);
    buffer_add(b, " %");
    add_hidden(b, a, seat);
    buffer_add(b, "\n");
}

static void add_worst(buffer *b, const gradin_assessment *a) {
    buffer_print(b, "\nworst %d places: rating, figure that sets it, what hides the focus\n",
                 a->n_worst);
    for (int i = 0; i < a->n_worst; i++) add_worst_seat(b, a, a->worst_seat[i]);
}

/* ---- noise
 * ---------------------------------------------------------------------------------------------------------
 */

static void add_outside(buffer *b, const gradin_assessment *a) {
    units u = units_of(a->model);
    buffer_print(b, "\noverflight: %.60s\n", a->model->pass->name);
    buffer_add(b, "outside, free field: LAmax ");
    buffer_add_number(b, a->noise.outside_lamax_db, 1);
    buffer_add(b, " dB(A), closest ");
    buffer_add_number(b, a->noise.closest_m * u.length_scale, 0);
    buffer_print(b, " %s; standard uncertainty of levels inside about ", u.length);
    buffer_add_number(b, a->noise.uncertainty_db, 1);
    buffer_add(b, " dB\n");
}

static void add_inside(buffer *b, const gradin_assessment *a) {
    add_spread(b, "LAmax, shades as set, dB(A)", a->lamax_db[GRADIN_SHADES_AS_SET], 1.0, 1);
    add_spread(b, "LAmax, shades open, dB(A)", a->lamax_db[GRADIN_SHADES_OPEN], 1.0, 1);
    add_spread(b, "LAmax, shades shut, dB(A)", a->lamax_db[GRADIN_SHADES_SHUT], 1.0, 1);
    add_spread(b, "NC at the maximum (15 is 15 or less)", a->nc, 1.0, 0);
    buffer_print(b, "facade D2m,nT,w %d dB open, %d dB shut",
                 a->noise.d2m_nt_w_db[GRADIN_SHADES_OPEN],
                 a->noise.d2m_nt_w_db[GRADIN_SHADES_SHUT]);
    if (!isnan(a->model->criterion.nc) || !isnan(a->model->criterion.lamax_dba))
        buffer_print(b, "; %d of %d places over the hall's criterion", a->n_over_criterion,
                     a->sight.n_seat);
    buffer_add(b, "\n");
}

static void add_build_ups(buffer *b, const gradin_assessment *a) {
    for (int i = 0; i < a->noise.n_buildup; i++) {
        const gradin_weighted *w = &a->noise.rw[i];
        buffer_print(b, "  %-32.32s Rw(C;Ctr) %d(%d;%d) dB%s\n", a->model->buildup[i].name,
                     w->rating_db, w->c_db, w->ctr_db,
                     a->model->buildup[i].is_measured ? ", as given" : ", predicted");
    }
}

/* ---- the whole
 * ------------------------------------------------------------------------------------------------------
 */

/* Breaks at spaces so that no line passes 98 columns. */
static void add_wrapped(buffer *b, const char *text) {
    enum { WIDTH = 96 };
    while (strlen(text) > WIDTH) {
        int cut = WIDTH;
        while (cut > 0 && text[cut] != ' ') cut--;
        buffer_print(b, "  %.*s\n", cut, text);
        text += cut + 1;
    }
    buffer_print(b, "  %s\n", text);
}

gradin_status gradin_summary_text(gradin_arena *arena, const gradin_assessment *assessment,
                                  char **text, gradin_error *error) {
    if (!arena || !assessment || !text)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "arena, assessment and text are needed");
    buffer b = {.arena = arena};
    add_head(&b, assessment);
    add_ratings(&b, assessment);
    add_sight(&b, assessment);
    add_worst(&b, assessment);
    if (assessment->has_noise) {
        add_outside(&b, assessment);
        add_inside(&b, assessment);
        add_build_ups(&b, assessment);
    }
    buffer_add(&b, "\ncaution\n");
    for (int i = 0; table_cautions[i]; i++) add_wrapped(&b, table_cautions[i]);
    return buffer_finish(&b, text, NULL, error);
}
