/* The summary for people: one screen of plain text, a page wide. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/assess/summary_limits.h"
#include "table/shared/calibration.h"
#include "table/shared/cautions.h"
#include "table/shared/doubt.h"
#include "table/shared/gaps.h"
#include "table/shared/names.h"
#include "table/shared/text.h"

#include <stdio.h>

enum {
    NAME_COLUMNS = 40,
    LEVEL_COLUMNS = 20,
    SEAT_COLUMNS = 16,
    REASON_COLUMNS = 16,
    OCCLUDER_COLUMNS = 16,
    LABEL_COLUMNS = 24,
    FIGURE_COLUMNS = 9,
    MAX_BUILDUP_LINES = 3,
    MIN_PART_LINES = 2, /* and those that let in a tenth or more */
    MAX_WORST_LINES = 5 /* all of them are in the JSON summary */
};

static void put_head(table_text *out, const gradin_assessment *a) {
    const gradin_model *m = a->model;
    table_put_fitted(out, m->layout_name ? m->layout_name : "layout", NAME_COLUMNS, false);
    table_print(out, " (%s) in ", gradin_form_name(m->form));
    table_put_fitted(out, m->venue_name ? m->venue_name : "venue", NAME_COLUMNS, false);
    table_print(out, "\n%d seats, of which %d wheelchair places and %d companion seats\n",
                m->seats.n_seat, m->seats.n_wheelchair, m->seats.n_companion);
}

static void put_spread_head(table_text *out, const char *label) {
    table_put_fitted(out, label, LABEL_COLUMNS, true);
    table_print(out, "%9s%9s%9s%9s%9s\n", "least", "10 %", "median", "90 %", "most");
}

static void put_spread(table_text *out, const char *label, table_quantity quantity,
                       const gradin_spread *s, double scale) {
    const double value[] = {s->least, s->p10, s->median, s->p90, s->most};
    table_put(out, "  ");
    table_put_fitted(out, label, LABEL_COLUMNS - 2, true);
    for (int i = 0; i < 5; i++) table_put_right(out, quantity, scale * value[i], FIGURE_COLUMNS);
    table_put(out, "\n");
}

/* With the unit behind the label. */
static void put_length_spread(table_text *out, const char *label, length_unit unit,
                              const gradin_spread *s) {
    const double value_m[] = {s->least, s->p10, s->median, s->p90, s->most};
    char head[LABEL_COLUMNS];
    snprintf(head, sizeof head, "%s, %s", label, unit.name);
    table_put(out, "  ");
    table_put_fitted(out, head, LABEL_COLUMNS - 2, true);
    for (int i = 0; i < 5; i++) table_put_length_right(out, value_m[i], unit, FIGURE_COLUMNS);
    table_put(out, "\n");
}

static void put_rating(table_text *out, const gradin_sight *sight) {
    table_put(out, "Seats: ");
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        double share = sight->n_seat > 0 ? 100.0 * sight->n_rating[k] / sight->n_seat : 0.0;
        table_print(out, "%s%s %d (", k > 0 ? ", " : "", gradin_rating_name((gradin_rating)k),
                    sight->n_rating[k]);
        table_put_number(out, TABLE_PERCENT, share);
        table_put(out, " %)");
    }
    table_put(out, "\n");
}

/* Where there is more than one. */
static void put_levels(table_text *out, const gradin_assessment *a) {
    for (int k = 0; k < a->model->n_level && a->model->n_level > 1; k++) {
        const gradin_level_sum *level = &a->level[k];
        table_put(out, "  ");
        table_put_fitted(out, a->model->level_name[k], LEVEL_COLUMNS, true);
        table_print(out, " %5d:", level->n_seat);
        for (int rating = 0; rating < GRADIN_N_RATING; rating++)
            table_print(out, "%s %s %d", rating > 0 ? "," : "",
                        gradin_rating_name((gradin_rating)rating), level->n_rating[rating]);
        table_put(out, "\n");
    }
}

static void put_hidden_words(table_text *out, const gradin_assessment *a, int seat) {
    int cause = table_first_cause(a, seat);
    const char *occluder = table_worst_occluder(a, seat);
    if (cause < 0) {
        table_put(out, "nothing hides the focus");
        return;
    }
    table_print(out, "%s ", gradin_cause_name((gradin_cause)cause));
    table_put_number(out, TABLE_PERCENT,
                     100.0 * a->sight.hidden[(size_t)seat * GRADIN_N_CAUSE + (size_t)cause]);
    table_put(out, " %");
    if (!occluder) return;
    table_put(out, ", ");
    table_put_fitted(out, occluder, OCCLUDER_COLUMNS, false);
}

static void put_worst_seat(table_text *out, const gradin_assessment *a, int seat) {
    const gradin_sight *s = &a->sight;
    gradin_reason reason = s->reason[seat];
    table_put(out, "  ");
    table_put_fitted(out, a->model->seats.id[seat], SEAT_COLUMNS, true);
    table_print(out, " %-5s ", gradin_rating_name(s->rating[seat]));
    table_put_right(out, TABLE_PERCENT, 100.0 * s->visible[seat], 5);
    table_put(out, " % ");
    table_put_fitted(out, reason == GRADIN_REASON_NONE ? "" : gradin_reason_name(reason),
                     REASON_COLUMNS, true);
    table_put(out, " ");
    put_hidden_words(out, a, seat);
    table_put(out, "\n");
}

static void put_crowd(table_text *out, const gradin_assessment *a) {
    put_spread(out, "clear view, % of draws", TABLE_PERCENT, &a->clear_view, 100.0);
    table_print(out, "  %d audiences drawn; a view is clear from ", a->crowd.n_draw);
    table_put_number(out, TABLE_PERCENT, 100.0 * a->crowd.clear_limit);
    table_put(out, " % of the focus\n");
}

static void put_sight(table_text *out, const gradin_assessment *a) {
    table_put(out, "\n");
    put_rating(out, &a->sight);
    put_levels(out, a);
    table_summary_limits_text(out, a);
    table_summary_c_text(out, a);
    put_spread_head(out, "Sightlines");
    put_spread(out, "visible focus, %", TABLE_PERCENT, &a->visible, 100.0);
    for (int k = 0; k < a->n_area; k++) {
        char label[LABEL_COLUMNS];
        snprintf(label, sizeof label, "  %.16s, %%", a->model->focus[k].name);
        put_spread(out, label, TABLE_PERCENT, &a->area[k].spread, 100.0);
    }
    put_length_spread(out, "C-value", small_unit_of(a->model->units), &a->c_value_m);
    put_length_spread(out, "distance to focus", stated_unit_of(a->model->units), &a->distance_m);
    if (a->has_crowd) put_crowd(out, a);
    int shown = a->n_worst < MAX_WORST_LINES ? a->n_worst : MAX_WORST_LINES;
    table_put(out, "Worst seats: rating, focus seen, what sets the rating, what hides most\n");
    for (int k = 0; k < shown; k++) put_worst_seat(out, a, a->worst_seat[k]);
}

static void put_outside(table_text *out, const gradin_assessment *a) {
    table_put(out, "\nNoise of ");
    table_put_fitted(out, a->model->pass->name ? a->model->pass->name : "the overflight",
                     NAME_COLUMNS, false);
    table_print(out, ": outside %s ", gradin_maximum_name(a->noise.weighting));
    table_put_number(out, TABLE_DECIBEL, a->noise.outside_lamax_db);
    length_unit whole = length_unit_of(a->model->units);
    whole.decimals = 0;
    table_put(out, " dB, ");
    table_put_length(out, a->noise.closest_m, whole);
    table_put(out, " at its closest\n");
}

/* Over seats and states of the shades that are printed. */
static double least_level_db(const gradin_assessment *a) {
    double least_db = a->lamax_db[GRADIN_SHADES_AS_SET].least;
    for (int k = 0; k < GRADIN_N_SHADE_STATE && table_has_shades(a); k++)
        least_db = fmin(least_db, a->lamax_db[k].least);
    return least_db;
}

static void put_inside(table_text *out, const gradin_assessment *a) {
    char head[32];
    snprintf(head, sizeof head, "Inside, %s, dB", gradin_maximum_name(a->noise.weighting));
    put_spread_head(out, head);
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        if (k == GRADIN_SHADES_AS_SET || table_has_shades(a))
            put_spread(out, table_shade_state_name(k), TABLE_DECIBEL, &a->lamax_db[k], 1.0);
    put_spread(out, "NC (held to 15 to 70)", TABLE_NOISE_CRITERION, &a->nc, 1.0);
    table_put_quiet(out, least_level_db(a), NAN);
    table_put_doubt(out, &a->noise.uncertainty, a->systematic.median, NULL);
}

static void put_facade(table_text *out, const gradin_assessment *a) {
    const int *d = a->noise.d2m_nt_w_db;
    if (a->noise.n_patch > 0)
        table_print(out, "  room by radiosity over %d patches\n", a->noise.n_patch);
    else
        table_put(out, "  room taken as diffuse\n");
    if (a->noise.room_note[0] != '\0') table_print(out, "  %s\n", a->noise.room_note);
    table_print(out, "Facade D2m,nT,w %d dB as set", d[GRADIN_SHADES_AS_SET]);
    if (table_has_shades(a))
        table_print(out, ", %d dB shades open, %d dB shades shut", d[GRADIN_SHADES_OPEN],
                    d[GRADIN_SHADES_SHUT]);
    table_put(out, "\n");
    table_put_calibration(out, &a->noise.calibration, &a->predicted_db,
                          &a->lamax_db[GRADIN_SHADES_AS_SET]);
}

static void put_without(table_text *out, const gradin_assessment *a, double without_db) {
    table_put(out, " (were it perfect: ");
    if (isfinite(without_db)) {
        table_put_number(out, TABLE_DECIBEL, -without_db);
        table_put(out, " dB less)\n");
    } else {
        table_put(out, a->noise.gaps.n_gap > 0 ? "nothing left of what is stated)\n"
                                               : "nothing left)\n");
    }
}

static void put_parts(table_text *out, const gradin_assessment *a) {
    const gradin_facade_part *as_set = a->facade.part[GRADIN_SHADES_AS_SET];
    int shown = 0;
    while (shown < a->facade.n_part && (shown < MIN_PART_LINES || as_set[shown].share >= 0.1))
        shown++;
    if (shown > 0) table_put(out, "A-weighted power let in at the maximum, shades as set\n");
    for (int k = 0; k < shown; k++) {
        const gradin_facade_part *part = &as_set[k];
        table_put_right(out, TABLE_PERCENT, 100.0 * part->share, 7);
        table_put(out, " %  ");
        if (part->kind != GRADIN_PART_VENT) table_print(out, "%s of ", table_part_name(part));
        table_put_fitted(out, part->entry, NAME_COLUMNS, false);
        put_without(out, a, part->without_db);
    }
    if (shown > 0)
        table_put_gaps_alone(out, &a->noise.gaps, a->lamax_db[GRADIN_SHADES_AS_SET].median);
}

/* What of the sound comes in through what is built so; -1: nothing is. */
static double share_of_buildup(const gradin_assessment *a, int buildup) {
    double share = -1.0;
    for (int i = 0; i < a->noise.n_element; i++)
        if (a->model->element[i].buildup == buildup) share = fmax(share, 0.0) + a->noise.share[i];
    return share;
}

/* Of those that let in less than another one, or as much and stand after it, the one that lets in
 * most; -1. At first there is no other: -1. */
static int next_buildup(const gradin_assessment *a, int before) {
    double most = before < 0 ? INFINITY : share_of_buildup(a, before), best = -1.0;
    int found = -1;
    for (int k = 0; k < a->noise.n_buildup; k++) {
        double share = share_of_buildup(a, k);
        bool is_left = share < most || (share == most && k > before);
        if (!is_left || !(share > best)) continue;
        best = share;
        found = k;
    }
    return found;
}

/* Those through which most comes in first; what nothing is built of in summary.json alone. */
static void put_buildups(table_text *out, const gradin_assessment *a) {
    int n = a->noise.n_buildup, shown = 0;
    int most = n > MAX_BUILDUP_LINES ? MAX_BUILDUP_LINES - 1 : n;
    for (int k = next_buildup(a, -1); k >= 0 && shown < most; k = next_buildup(a, k), shown++) {
        const gradin_weighted *rw = &a->noise.rw[k];
        table_put(out, "  ");
        table_put_fitted(out, a->model->buildup[k].name, NAME_COLUMNS, false);
        table_print(out, ": Rw (C; Ctr) %d (%d; %d) dB, %s\n", rw->rating_db, rw->c_db, rw->ctr_db,
                    gradin_basis_name(&a->model->buildup[k]));
    }
    if (shown < n) table_print(out, "  and %d more build-ups in summary.json\n", n - shown);
}

static void put_criterion(table_text *out, const gradin_assessment *a) {
    const gradin_criterion *c = &a->model->criterion;
    if (isnan(c->nc) && isnan(c->lamax_dba)) {
        table_put(out, "No noise criterion is stated.\n");
        return;
    }
    if (!isnan(c->nc)) {
        table_put(out, "NC ");
        table_put_number(out, TABLE_NOISE_CRITERION, c->nc);
    }
    if (!isnan(c->lamax_dba)) {
        table_put(out, isnan(c->nc) ? "LAmax " : ", LAmax ");
        table_put_number(out, TABLE_DECIBEL, c->lamax_dba);
        table_put(out, " dB");
    }
    table_put_verdicts(out, a->n_verdict, a->noise.n_seat, c->confidence, &a->noise.gaps);
}

static void put_noise(table_text *out, const gradin_assessment *a) {
    put_outside(out, a);
    put_inside(out, a);
    table_put_gaps(out, &a->noise.gaps);
    put_facade(out, a);
    put_parts(out, a);
    put_buildups(out, a);
    put_criterion(out, a);
}

gradin_status gradin_summary_text(gradin_arena *arena, const gradin_assessment *assessment,
                                  char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        assessment_summary_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, assessment);
    put_sight(&out, assessment);
    if (assessment->has_noise)
        put_noise(&out, assessment);
    else
        table_put(&out, "\nNoise: the layout names no overflight, or the venue has no facade.\n");
    table_put(&out, "\n");
    for (int k = 0; k < TABLE_N_CAUTION; k++) table_print(&out, "%s\n", table_caution[k]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = out.bytes;
    return GRADIN_OK;
}
