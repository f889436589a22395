/* How large a difference must be before it is one.
 *
 * Samples: a visible share by n samples of one area has a standard error of at most 0.3 points at
 * 1,024 samples, and it falls as n^-0.75 (both from tests/bench/sampling.c, whose test holds the
 * 0.3). Areas err apart, each with its own samples and by its weight. Draws: the
 * standard error that they came with. Three standard errors of the difference are asked for, since
 * hundreds of seats are compared at once.
 *
 * Geometry: C within 5 mm, distance within 50 mm and angles within half a degree are what setting
 * out a row can hold (common practice, no source).
 *
 * Noise: scatter is that of the same flights for all layouts and cancels. What is systematic counts
 * as far as the two do not share it: source, envelope and room, taken as independent where they are
 * not the same, by the coverage factor of the first layout's confidence. Two cuts of one room into
 * patches differ by up to 0.3 dB (the guide, Accuracy), which is the least that is ever told. */
#include "gradin/geometry.h"
#include "studies/compare/compare.h"

static const double error_of_default = 0.003, sample_power = 0.75;
static const double n_standard_errors = 3.0;
static const double c_tells_m = 0.005, distance_tells_m = 0.05, angle_tells_deg = 0.5;
static const double noise_least_db = 0.3;
static const double same = 1e-9;

static double weight_of(const gradin_model *model, const double *weight, int area) {
    return weight ? weight[area] : model->focus[area].weight;
}

/* A point is seen or not. */
double compare_sample_error(const gradin_assessment *a, const double *weight) {
    const gradin_model *model = a->model;
    double sum = 0.0, square = 0.0;
    for (int k = 0; k < model->n_focus; k++) sum += weight_of(model, weight, k);
    for (int k = 0; k < model->n_focus; k++) {
        if (model->focus[k].kind == GRADIN_FOCUS_POINT) continue;
        double n = fmax(1.0, a->sight.area_sample[k]);
        double error = error_of_default * pow(GRADIN_DEFAULT_SAMPLE / n, sample_power);
        square += pow(weight_of(model, weight, k) / sum * error, 2.0);
    }
    return sqrt(square);
}

static bool is_open(double value, double limit, double error) {
    return fabs(value - limit) <= n_standard_errors * error;
}

/* Only the figure that sets a seat's class, or any of one that is so well now, can move it. */
static bool can_move(const gradin_sight *s, int seat, gradin_reason reason, gradin_rating rating) {
    return s->rating[seat] <= rating || s->reason[seat] == reason;
}

double compare_class_tells(const gradin_assessment *a, gradin_rating rating) {
    const gradin_sight *s = &a->sight;
    const gradin_limits *limits = &a->model->limits;
    double error = compare_sample_error(a, NULL);
    int n_open = 0;
    for (int i = 0; i < s->n_seat; i++) {
        bool by_samples = !limits->is_left_out[GRADIN_REASON_VISIBLE] &&
                          can_move(s, i, GRADIN_REASON_VISIBLE, rating) &&
                          is_open(s->visible[i], limits->visible_min[rating], error);
        bool by_draws =
            a->has_crowd && !limits->is_left_out[GRADIN_REASON_CLEAR_VIEW] &&
            can_move(s, i, GRADIN_REASON_CLEAR_VIEW, rating) &&
            is_open(a->crowd.clear[i], limits->clear_view_min[rating], a->crowd.clear_se[i]);
        n_open += by_samples || by_draws;
    }
    return s->n_seat > 0 ? (double)n_open / s->n_seat : 0.0;
}

static bool are_equal(const double *a, const double *b, int n) {
    for (int i = 0; i < n; i++)
        if (!(a[i] == b[i])) return false;
    return true;
}

static bool is_same_source(const gradin_pass *a, const gradin_pass *b) {
    return a->reference_m == b->reference_m && a->directivity.n_lobe == b->directivity.n_lobe &&
           are_equal(a->level_db, b->level_db, GRADIN_N_BAND);
}

static bool is_same_element(const gradin_element *a, const gradin_element *b) {
    return a->kind == b->kind && a->width_m == b->width_m && a->height_m == b->height_m &&
           a->open == b->open;
}

static bool is_same_glass(const gradin_glass *a, const gradin_glass *b) {
    return are_equal(a->r_db, b->r_db, GRADIN_N_BAND) &&
           are_equal(a->shade_db, b->shade_db, GRADIN_N_BAND);
}

static bool is_same_envelope(const gradin_assessment *a, const gradin_assessment *b) {
    const gradin_noise *m = &a->noise, *n = &b->noise;
    if (a->model->n_element != b->model->n_element || !m->glass || !n->glass) return false;
    if (!are_equal(m->facade_r_db[GRADIN_SHADES_AS_SET], n->facade_r_db[GRADIN_SHADES_AS_SET],
                   GRADIN_N_BAND))
        return false;
    for (int e = 0; e < a->model->n_element; e++)
        if (!is_same_element(&a->model->element[e], &b->model->element[e]) ||
            !is_same_glass(&m->glass[e], &n->glass[e]))
            return false;
    return true;
}

static bool is_same_room(const gradin_model *a, const gradin_model *b) {
    if (a->ceiling_m != b->ceiling_m || a->seats.n_seat != b->seats.n_seat) return false;
    for (int i = 0; i < a->seats.n_seat; i++)
        if (gradin_norm(gradin_sub(a->seats.floor_m[i], b->seats.floor_m[i])) > same) return false;
    return gradin_polygon_is_same(a->footprint, b->footprint, same);
}

gradin_common_noise compare_common_noise(const gradin_assessment *a, const gradin_assessment *b) {
    if (!a->has_noise || !b->has_noise) return (gradin_common_noise){false, false, false};
    return (gradin_common_noise){is_same_source(a->model->pass, b->model->pass),
                                 is_same_envelope(a, b), is_same_room(a->model, b->model)};
}

static double envelope_db(const gradin_assessment *a, int seat) {
    double sum = 0.0;
    if (seat >= 0)
        return gradin_envelope_uncertainty_db(&a->noise.uncertainty,
                                              a->noise.band_db + (size_t)seat * GRADIN_N_BAND);
    for (int i = 0; i < a->noise.n_seat; i++) sum += envelope_db(a, i);
    return a->noise.n_seat > 0 ? sum / a->noise.n_seat : 0.0;
}

double compare_noise_tells(const gradin_assessment *a, int i, const gradin_assessment *b, int j,
                           const gradin_common_noise *common) {
    const gradin_uncertainty *u = &a->noise.uncertainty, *v = &b->noise.uncertainty;
    double square = 0.0, factor = gradin_coverage_factor(a->model->criterion.confidence);
    if (!common->source) square += pow(u->source_db, 2.0) + pow(v->source_db, 2.0);
    if (!common->room) square += pow(u->room_db, 2.0) + pow(v->room_db, 2.0);
    if (!common->envelope) square += pow(envelope_db(a, i), 2.0) + pow(envelope_db(b, j), 2.0);
    return fmax(noise_least_db, factor * sqrt(square));
}

void compare_tells(const gradin_assessment *a, int i, const gradin_assessment *b, int j,
                   const gradin_common_noise *common, const compare_focus *focus, double *tells) {
    double first = compare_sample_error(a, focus->is_part ? focus->weight[0] : NULL);
    double second = compare_sample_error(b, focus->is_part ? focus->weight[1] : NULL);
    bool are_drawn = a->has_crowd && b->has_crowd, is_loud = a->has_noise && b->has_noise;
    tells[GRADIN_FIGURE_VISIBLE] = n_standard_errors * hypot(first, second);
    tells[GRADIN_FIGURE_CLEAR_VIEW] =
        are_drawn ? n_standard_errors * hypot(a->crowd.clear_se[i], b->crowd.clear_se[j]) : NAN;
    tells[GRADIN_FIGURE_C_VALUE] = c_tells_m;
    tells[GRADIN_FIGURE_DISTANCE] = distance_tells_m;
    tells[GRADIN_FIGURE_OFF_AXIS] = tells[GRADIN_FIGURE_DOWN] = tells[GRADIN_FIGURE_TURN] =
        angle_tells_deg;
    tells[GRADIN_FIGURE_LAMAX] = is_loud ? compare_noise_tells(a, i, b, j, common) : NAN;
}
