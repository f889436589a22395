/* Loss factor of the glass and shear modulus of the interlayers that bring the predicted curve of a
 * build-up nearest to its measured one.
 *
 * Method: least squares of R over the measured thirds in the logarithms of the two values, by
 * Levenberg and Marquardt: D. W. Marquardt, J. SIAM 11 (1963) 431-441 (from memory); each step
 * solves the damped linear system by QR (LAPACK dgels). Derivatives by central differences. Limits:
 * one loss for all plates and one modulus for all interlayers, neither of which knows frequency;
 * the loss of the interlayer and everything else stay; values within the bounds below, and a
 * measurement that the theory cannot reach (leaks, a frame) spoils them: look at the residuals. */
#include "acoustics/glazing/tmm.h"
#include "base/use.h"
#include "gradin/acoustics/glazing.h"

#include <lapacke.h>

enum { N_VALUE = 2, N_ROW = GRADIN_N_BAND + N_VALUE, MAX_STEP = 40 };

static const double DIFFERENCE = 0.05; /* of a logarithm */
static const double LEAST[N_VALUE] = {1e-4, 1e5}, MOST[N_VALUE] = {0.5, 5e9};
static const double SETTLED = 1e-4; /* of a logarithm */

typedef struct problem {
    gradin_buildup buildup;
    gradin_layer layer[GLAZING_MAX_LAYER];
    glazing_method method;
    int n_value; /* 1 without interlayers */
} problem;

static void set_values(problem *p, const double *log_value) {
    for (int i = 0; i < p->buildup.n_layer; i++)
        if (p->layer[i].kind == GRADIN_LAYER_PLATE)
            p->layer[i].loss = exp(log_value[0]);
        else if (p->layer[i].kind == GRADIN_LAYER_INTERLAYER)
            p->layer[i].shear_pa = exp(log_value[1]);
}

/* A modulus that knows no frequency, as that of the relaxation at 1 kHz. */
static void make_constant(gradin_layer *layer, double temperature_c) {
    if (layer->kind != GRADIN_LAYER_INTERLAYER || !layer->relaxation) return;
    double complex shear_pa = gradin_relaxation_shear_pa(layer->relaxation, 1000.0, temperature_c);
    layer->shear_pa = creal(shear_pa);
    layer->loss = cimag(shear_pa) / creal(shear_pa);
    layer->relaxation = NULL;
}

/* Predicted less measured, [GRADIN_N_BAND]. */
static gradin_status find_residual(problem *p, const double *log_value, double *residual_db,
                                   gradin_error *error) {
    glazing_stack stack;
    set_values(p, log_value);
    gradin_status status = gradin_glazing_stack(&p->buildup, &stack, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++)
        residual_db[b] = isnan(p->buildup.measured_r_db[b])
                             ? 0.0 /* not measured */
                             : -10.0 * log10(gradin_glazing_tau_band(&stack, &p->method,
                                                                     gradin_band_mid_hz(b))) -
                                   p->buildup.measured_r_db[b];
    return status;
}

static int count_measured(const gradin_buildup *buildup) {
    int n = 0;
    for (int b = 0; b < GRADIN_N_BAND; b++) n += !isnan(buildup->measured_r_db[b]);
    return n;
}

static double sum_of_squares(const double *residual_db) {
    double sum = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) sum += residual_db[b] * residual_db[b];
    return sum;
}

static gradin_status find_slopes(problem *p, const double *log_value,
                                 double slope[N_VALUE][GRADIN_N_BAND], gradin_error *error) {
    for (int k = 0; k < p->n_value; k++) {
        double moved[N_VALUE] = {log_value[0], log_value[1]}, below[GRADIN_N_BAND];
        moved[k] = log_value[k] - DIFFERENCE;
        gradin_status status = find_residual(p, moved, below, error);
        moved[k] = log_value[k] + DIFFERENCE;
        if (status == GRADIN_OK) status = find_residual(p, moved, slope[k], error);
        if (status != GRADIN_OK) return status;
        for (int b = 0; b < GRADIN_N_BAND; b++)
            slope[k][b] = (slope[k][b] - below[b]) / (2.0 * DIFFERENCE);
    }
    return GRADIN_OK;
}

/* The damped step from slopes and residual; false when LAPACK finds the system singular. */
static bool solve_step(const problem *p, double slope[N_VALUE][GRADIN_N_BAND],
                       const double *residual_db, double damping, double *step) {
    double matrix[N_VALUE * N_ROW] = {0}, right[N_ROW] = {0};
    for (int k = 0; k < p->n_value; k++) {
        for (int b = 0; b < GRADIN_N_BAND; b++) matrix[k * N_ROW + b] = slope[k][b];
        matrix[k * N_ROW + GRADIN_N_BAND + k] = sqrt(damping);
    }
    for (int b = 0; b < GRADIN_N_BAND; b++) right[b] = -residual_db[b];
    if (LAPACKE_dgels(LAPACK_COL_MAJOR, 'N', N_ROW, p->n_value, 1, matrix, N_ROW, right, N_ROW))
        return false;
    for (int k = 0; k < p->n_value; k++) step[k] = right[k];
    return true;
}

/* One accepted step, or none: *moved tells how far. */
static gradin_status improve(problem *p, double *log_value, double *residual_db, double *damping,
                             double *moved, gradin_error *error) {
    double slope[N_VALUE][GRADIN_N_BAND], step[N_VALUE] = {0}, tried_db[GRADIN_N_BAND];
    gradin_status status = find_slopes(p, log_value, slope, error);
    *moved = 0.0;
    for (; status == GRADIN_OK && *damping < 1e9; *damping *= 4.0) {
        double tried[N_VALUE] = {log_value[0], log_value[1]};
        if (!solve_step(p, slope, residual_db, *damping, step)) continue;
        for (int k = 0; k < p->n_value; k++)
            tried[k] = fmin(fmax(log_value[k] + step[k], log(LEAST[k])), log(MOST[k]));
        status = find_residual(p, tried, tried_db, error);
        if (status != GRADIN_OK || !(sum_of_squares(tried_db) < sum_of_squares(residual_db)))
            continue;
        for (int k = 0; k < p->n_value; k++) {
            *moved = fmax(*moved, fabs(tried[k] - log_value[k]));
            log_value[k] = tried[k];
        }
        for (int b = 0; b < GRADIN_N_BAND; b++) residual_db[b] = tried_db[b];
        *damping *= 0.1;
        return GRADIN_OK;
    }
    return status;
}

static gradin_status refuse(gradin_error *error, const gradin_buildup *buildup, const char *text) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "build-up %s %s", buildup->name, text);
}

static gradin_status prepare(problem *p, const gradin_buildup *buildup, double *log_value,
                             gradin_error *error) {
    if (!buildup->layer || !buildup->is_measured || buildup->is_octave)
        return refuse(error, buildup, "cannot be fitted: it needs layers and measured thirds");
    if (buildup->n_layer > GLAZING_MAX_LAYER)
        return refuse(error, buildup, "has more than 24 layers");
    *p = (problem){.buildup = *buildup, .n_value = 1};
    p->method = gradin_glazing_mounted(buildup, gradin_glazing_sample());
    p->method.tolerance = 0.005;
    p->buildup.layer = p->layer;
    log_value[1] = 0.0;
    for (int i = 0; i < buildup->n_layer; i++) {
        p->layer[i] = buildup->layer[i];
        if (p->layer[i].kind == GRADIN_LAYER_PLATE)
            log_value[0] = log(fmax(p->layer[i].loss, 1e-3));
        if (p->layer[i].kind != GRADIN_LAYER_INTERLAYER) continue;
        make_constant(&p->layer[i], buildup->temperature_c);
        log_value[1] = log(p->layer[i].shear_pa);
        p->n_value = 2;
    }
    return GRADIN_OK;
}

gradin_status gradin_glazing_fit_make(const gradin_buildup *buildup, gradin_glazing_fit *fit,
                                      gradin_error *error) {
    problem p;
    double log_value[N_VALUE] = {0}, damping = 1.0, moved = 1.0;
    if (NEEDS(error, buildup, fit) != GRADIN_OK) return GRADIN_BAD_USE;
    gradin_status status = prepare(&p, buildup, log_value, error);
    *fit = (gradin_glazing_fit){.buildup = buildup};
    if (status != GRADIN_OK) return status;
    status = find_residual(&p, log_value, fit->residual_db, error);
    fit->rms_before_db = sqrt(sum_of_squares(fit->residual_db) / count_measured(buildup));
    for (int i = 0; status == GRADIN_OK && i < MAX_STEP && moved > SETTLED; i++)
        status = improve(&p, log_value, fit->residual_db, &damping, &moved, error);
    fit->loss = exp(log_value[0]);
    fit->shear_pa = p.n_value > 1 ? exp(log_value[1]) : NAN;
    for (int k = 0; k < p.n_value; k++)
        fit->is_at_bound |= log_value[k] <= log(LEAST[k]) || log_value[k] >= log(MOST[k]);
    fit->rms_db = sqrt(sum_of_squares(fit->residual_db) / count_measured(buildup));
    return status;
}

static const gradin_layer *first_plate(const gradin_buildup *buildup) {
    int i = 0;
    while (i + 1 < buildup->n_layer && buildup->layer[i].kind != GRADIN_LAYER_PLATE) i++;
    return &buildup->layer[i];
}

/* The plates of the fitted pane's material, and every interlayer. */
static void apply_to(const gradin_glazing_fit *fit, const gradin_layer *model,
                     gradin_layer *layer) {
    bool is_same = layer->density_kgm3 == model->density_kgm3 && layer->young_pa == model->young_pa;
    if (layer->kind == GRADIN_LAYER_PLATE && is_same) layer->loss = fit->loss;
    if (layer->kind != GRADIN_LAYER_INTERLAYER || !isfinite(fit->shear_pa)) return;
    make_constant(layer, fit->buildup->temperature_c);
    layer->shear_pa = fit->shear_pa;
}

gradin_status gradin_glazing_fit_apply(gradin_arena *arena, const gradin_glazing_fit *fit,
                                       gradin_buildups *buildups, gradin_error *error) {
    if (NEEDS(error, arena, fit, buildups) != GRADIN_OK ||
        NEEDS(error, fit->buildup, buildups->buildup) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_buildup *made = gradin_arena_alloc(arena, (size_t)buildups->n_buildup, sizeof *made);
    if (!made) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for glazing");
    for (int i = 0; i < buildups->n_buildup; i++) {
        made[i] = buildups->buildup[i];
        gradin_layer *layer = gradin_arena_alloc(arena, (size_t)made[i].n_layer, sizeof *layer);
        if (!layer) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for glazing");
        for (int k = 0; k < made[i].n_layer; k++) {
            layer[k] = made[i].layer[k];
            apply_to(fit, first_plate(fit->buildup), &layer[k]);
        }
        if (made[i].layer) made[i].layer = layer;
    }
    buildups->buildup = made;
    return GRADIN_OK;
}
