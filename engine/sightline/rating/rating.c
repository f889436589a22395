/* Rating of a seat: each figure gets the best class whose limit it keeps, the seat the worst class
 * of the figures that count. A limit or a figure that is NAN does not apply. Limits are the venue's
 * or the brief's own: no published scale maps what is hidden to a class.
 *
 * C has a class of its own. A head in the plane of view: by C over it. Where the view passes
 * between the heads of the row in front: the better of what C over that row would give anyway, and
 * of the gap between the heads, joined, where a head two rows ahead stands in the gap, by C over
 * that one (the worse of the two). A view that passes below the shoulders finds no gap between the
 * heads, and a gap is no better than what all heads together leave of the floor (by the limits of
 * the visible share): a wide stage does not fit in it. */
#include "base/use.h"
#include "gradin/sightline.h"
#include "model/complete.h"

#include <string.h>

/* A figure designed to stand on its limit must not fail it by rounding. */
#define SLACK 1e-9

static const double STANDING_M = 1.7; /* who acts, standing; from memory */

static gradin_rating rate_figure(double figure, const double limit[3], bool is_minimum) {
    int rating = GRADIN_RATING_CLEAR;
    if (isnan(figure)) return GRADIN_RATING_CLEAR;
    while (rating < GRADIN_RATING_POOR) {
        double spare = is_minimum ? figure - limit[rating] : limit[rating] - figure;
        if (isnan(limit[rating]) || spare >= -SLACK) break;
        rating++;
    }
    return (gradin_rating)rating;
}

static gradin_rating worse_of(gradin_rating a, gradin_rating b) {
    return a > b ? a : b;
}

/* The class of what heads leave of the floor that C is measured to: weights have no part in it. */
static gradin_rating class_past_heads(const gradin_model *model, const gradin_sight *sight,
                                      int seat) {
    double heads = sight->c_heads
                       ? sight->c_heads[seat]
                       : sight->hidden[(size_t)seat * GRADIN_N_CAUSE + GRADIN_CAUSE_HEAD];
    return rate_figure(1.0 - heads, model->limits.visible_min, true);
}

static gradin_rating class_between_heads(const gradin_model *model, const gradin_sight *sight,
                                         int seat) {
    const gradin_limits *limits = &model->limits;
    gradin_rating over = rate_figure(sight->c_row_m[seat], limits->c_value_min_m, true);
    if (sight->c_row_m[seat] < -model->audience.shoulder_drop_m) return over;
    gradin_rating gap = rate_figure(sight->window_deg[seat], limits->head_gap_min_deg, true);
    if (sight->c_case[seat] == GRADIN_C_TWO_AHEAD)
        gap = worse_of(gap, rate_figure(sight->c_two_m[seat], limits->two_row_c_min_m, true));
    gap = worse_of(gap, class_past_heads(model, sight, seat));
    return over < gap ? over : gap;
}

static gradin_rating class_of_c(const gradin_model *model, const gradin_sight *sight, int seat) {
    switch (sight->c_case[seat]) {
    case GRADIN_C_NONE:
        return GRADIN_N_RATING;
    case GRADIN_C_TWO_AHEAD:
    case GRADIN_C_BETWEEN_HEADS:
        return class_between_heads(model, sight, seat);
    default:
        return rate_figure(sight->c_m[seat], model->limits.c_value_min_m, true);
    }
}

/* Eyes no higher than the heads of those who act meet them, however near they are: the limit of
 * looking down is of galleries. Common practice, no source. */
static bool looks_over_heads(const gradin_model *model, int seat) {
    double floor_m = INFINITY;
    for (int i = 0; i < model->n_focus; i++)
        if (model->focus[i].kind == GRADIN_FOCUS_FLOOR)
            floor_m = fmin(floor_m, model->focus[i].z_m);
    return isinf(floor_m) || model->seats.eye_m[seat].z > floor_m + STANDING_M;
}

static void rate_seat(const gradin_model *model, const gradin_crowd *crowd, gradin_sight *sight,
                      int seat) {
    const gradin_limits *limits = &model->limits;
    gradin_rating c_class = class_of_c(model, sight, seat);
    double clear = crowd ? crowd->clear[seat] : NAN;
    double down_deg = looks_over_heads(model, seat) ? sight->down_deg[seat] : NAN;
    const gradin_rating by[GRADIN_N_REASON] = {
        [GRADIN_REASON_VISIBLE] = rate_figure(sight->visible[seat], limits->visible_min, true),
        [GRADIN_REASON_CLEAR_VIEW] = rate_figure(clear, limits->clear_view_min, true),
        [GRADIN_REASON_C_VALUE] = c_class == GRADIN_N_RATING ? GRADIN_RATING_CLEAR : c_class,
        [GRADIN_REASON_DISTANCE] =
            rate_figure(sight->distance_m[seat], limits->distance_max_m, false),
        [GRADIN_REASON_OFF_AXIS] =
            rate_figure(sight->off_axis_deg[seat], limits->off_axis_max_deg, false),
        [GRADIN_REASON_DOWN] = rate_figure(down_deg, limits->down_max_deg, false),
        [GRADIN_REASON_TURN] = rate_figure(sight->turn_deg[seat], limits->turn_max_deg, false),
    };
    gradin_reason worst = GRADIN_REASON_NONE;
    for (int i = GRADIN_REASON_NONE + 1; i < GRADIN_N_REASON; i++)
        if (!limits->is_left_out[i] && by[i] > by[worst]) worst = (gradin_reason)i;
    sight->c_class[seat] = c_class;
    sight->rating[seat] = by[worst];
    sight->reason[seat] = worst;
}

gradin_status gradin_sight_rate(const gradin_model *model, const gradin_crowd *crowd,
                                gradin_sight *sight, gradin_error *error) {
    if (NEEDS(error, sight) != GRADIN_OK || model_complete(model, error) != GRADIN_OK ||
        NEEDS(error, sight->visible, sight->hidden, sight->c_m, sight->c_row_m, sight->c_two_m,
              sight->c_case, sight->window_deg, sight->distance_m, sight->off_axis_deg,
              sight->down_deg, sight->turn_deg, sight->rating, sight->reason,
              sight->c_class) != GRADIN_OK ||
        (crowd && NEEDS(error, crowd->clear) != GRADIN_OK))
        return GRADIN_BAD_USE;
    if (sight->n_seat != model->seats.n_seat || (crowd && crowd->n_seat != sight->n_seat))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "results of another model's seats");
    memset(sight->n_rating, 0, sizeof sight->n_rating);
    memset(sight->n_c_class, 0, sizeof sight->n_c_class);
    for (int i = 0; i < sight->n_seat; i++) {
        rate_seat(model, crowd, sight, i);
        sight->n_rating[sight->rating[i]]++;
        sight->n_c_class[sight->c_class[i]]++;
    }
    return GRADIN_OK;
}
