/* Build-ups compared: both curves of each where it has layers and a measurement, ratings, critical
 * frequencies and mass-air-mass resonances.
 *
 * Critical frequency of a panel: fc = (c2/2 pi) sqrt(m/D(kc)), kc = 2 pi fc/c, with the bending
 * stiffness at that wavenumber, which of a laminate falls as the wavenumber rises; by bisection.
 * Resonances of n panels on n - 1 gaps: eigenvalues of the chain of masses m_i and springs s_i =
 * rho c2/d_i, the matrix M^-1/2 K M^-1/2 being tridiagonal (LAPACK dsterf); two panels give the
 * closed form (1/2 pi) sqrt(rho c2 (1/m1 + 1/m2)/d). F. Fahy, P. Gardonio, "Sound and Structural
 * Vibration", 2nd ed., 2007, ch. 5 (from memory). Limits: real part of the stiffness; gaps as
 * springs without mass. */
#include "acoustics/glazing/tmm.h"
#include "base/use.h"
#include "gradin/acoustics/glazing.h"

#include <lapacke.h>

enum { HALVINGS = 60 };

/* sin2 at coincidence of the i-th panel with its interlayers as they are at that frequency. */
static double coincidence(const glazing_stack *stack, int i, double f_hz) {
    glazing_stack tuned;
    gradin_glazing_tune(stack, &gradin_glazing_method, f_hz, &tuned);
    return gradin_glazing_coincidence(gradin_glazing_panel_at(&tuned, i), f_hz);
}

static double critical_hz(const glazing_stack *stack, int i) {
    double low_hz = 1.0, high_hz = 1e6;
    if (!(coincidence(stack, i, high_hz) < 1.0)) return INFINITY;
    for (int step = 0; step < HALVINGS; step++) {
        double middle_hz = sqrt(low_hz * high_hz);
        if (coincidence(stack, i, middle_hz) < 1.0)
            high_hz = middle_hz;
        else
            low_hz = middle_hz;
    }
    return high_hz;
}

/* Masses in a row and the give of the gas between them; what lies outside of the first and the last
 * mass, and sheets that air may pass, leave the resonances alone. */
typedef struct chain {
    int n_mass;
    double mass_kgm2[GLAZING_MAX_LAYER], give_m3n[GLAZING_MAX_LAYER]; /* give[i] behind mass[i] */
} chain;

static chain chain_of(const glazing_stack *stack) {
    chain c = {.n_mass = 0};
    bool is_joined = false; /* to the mass before, without gas between */
    for (int i = 0; i < stack->n_layer; i++) {
        const gradin_layer *layer = &stack->layer[i];
        bool is_gas = layer->kind == GRADIN_LAYER_GAP || layer->kind == GRADIN_LAYER_POROUS;
        if (is_gas) {
            double speed_ms =
                is_gas && layer->speed_ms > 0.0 ? layer->speed_ms : GRADIN_AIR_SPEED_MS;
            double density_kgm3 =
                layer->kind == GRADIN_LAYER_GAP ? layer->density_kgm3 : GRADIN_AIR_DENSITY_KGM3;
            if (c.n_mass)
                c.give_m3n[c.n_mass - 1] +=
                    layer->thickness_m / (density_kgm3 * speed_ms * speed_ms);
            is_joined = false;
        } else if (layer->kind != GRADIN_LAYER_SHEET || isinf(layer->resistance_pasm)) {
            if (!is_joined) c.n_mass++;
            c.mass_kgm2[c.n_mass - 1] += layer->density_kgm3 * layer->thickness_m;
            is_joined = true;
        }
    }
    return c;
}

/* LAPACK fails only on numbers that are not finite. */
static bool find_resonances(const glazing_stack *stack, gradin_glazed *g) {
    double diagonal[GLAZING_MAX_LAYER] = {0}, beside[GLAZING_MAX_LAYER] = {0};
    chain c = chain_of(stack);
    for (int i = 0; i + 1 < c.n_mass; i++) {
        double spring = 1.0 / c.give_m3n[i];
        double m1 = c.mass_kgm2[i], m2 = c.mass_kgm2[i + 1];
        diagonal[i] += spring / m1;
        diagonal[i + 1] += spring / m2;
        beside[i] = -spring / sqrt(m1 * m2);
    }
    if (c.n_mass < 2) return true;
    if (LAPACKE_dsterf(c.n_mass, diagonal, beside) != 0) return false;
    g->n_resonance = c.n_mass - 1;
    for (int i = 0; i < g->n_resonance; i++) /* the first is the chain moving as one */
        g->resonance_hz[i] = sqrt(diagonal[i + 1]) / (2.0 * GRADIN_PI);
    return true;
}

/* R of the layers as the view has it: size, joint, shade, in this order: what passes the joint
 * meets the shade as well. */
static gradin_status predict_r(const gradin_buildup *layers, const gradin_glazing_view *view,
                               double *r_db, gradin_error *error) {
    const gradin_shade *shade = view->shade;
    double loss_db[GRADIN_N_BAND] = {0.0};
    gradin_status status =
        view->width_m > 0.0
            ? gradin_glazing_finite_r_db(layers, view->width_m, view->height_m, r_db, error)
            : gradin_glazing_r_db(layers, r_db, error);
    if (status == GRADIN_OK && shade && shade->is_by_layers)
        status = gradin_glazing_insertion_db(layers, shade->layer, shade->n_layer, view->width_m,
                                             view->height_m, loss_db, error);
    bool has_size = view->width_m > 0.0;
    double width_m = has_size ? view->width_m : GRADIN_IN_PLACE_WIDTH_M;
    double height_m = has_size ? view->height_m : GRADIN_IN_PLACE_HEIGHT_M;
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++) {
        if (view->is_in_place)
            r_db[b] = gradin_jointed_r_db(r_db[b], GRADIN_IN_PLACE_JOINT_DB, width_m, height_m);
        if (shade) r_db[b] += shade->is_by_layers ? loss_db[b] : shade->insertion_loss_db[b];
    }
    return status;
}

static void find_shear(gradin_glazed *g) {
    const gradin_buildup *b = g->buildup;
    for (int i = 0; i < b->n_layer && isnan(g->shear_pa); i++) {
        if (b->layer[i].kind != GRADIN_LAYER_INTERLAYER || !b->layer[i].relaxation) continue;
        double complex shear_pa =
            gradin_relaxation_shear_pa(b->layer[i].relaxation, 1000.0, b->temperature_c);
        g->shear_pa = creal(shear_pa);
        g->shear_loss = cimag(shear_pa) / creal(shear_pa);
    }
}

static gradin_status predict(gradin_glazed *g, const gradin_glazing_view *view,
                             gradin_error *error) {
    glazing_stack stack;
    gradin_buildup layers = *g->buildup;
    layers.is_measured = false;
    gradin_status status = predict_r(&layers, view, g->predicted.r_db, error);
    if (status == GRADIN_OK) status = gradin_glazing_stack(&layers, &stack, error);
    if (status != GRADIN_OK) return status;
    g->predicted.is_given = true;
    g->predicted.uncertainty_basis =
        gradin_glazing_uncertainty_db(&layers, g->predicted.uncertainty_db);
    g->frames = gradin_glazing_frames(&layers);
    find_shear(g);
    g->mass_kgm2 = gradin_glazing_mass_kgm2(&layers);
    g->n_panel = stack.n_panel;
    for (int i = 0; i < stack.n_panel; i++) g->critical_hz[i] = critical_hz(&stack, i);
    if (!find_resonances(&stack, g))
        return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                "build-up %s: its resonances leave the finite numbers",
                                layers.name);
    g->predicted.ratings = gradin_rate_curve(g->predicted.r_db, false);
    return GRADIN_OK;
}

static void copy_measured(gradin_glazed *g) {
    const gradin_buildup *b = g->buildup;
    g->measured.is_given = true;
    g->measured.is_octave = b->is_octave;
    g->measured.uncertainty_basis = gradin_glazing_uncertainty_db(b, g->measured.uncertainty_db);
    for (int k = 0; k < GRADIN_N_BAND; k++) {
        g->measured.r_db[k] = b->measured_r_db[k];
        if (isnan(b->measured_r_db[k])) g->measured.uncertainty_db[k] = NAN;
    }
    g->measured.ratings = gradin_rate_curve(g->measured.r_db, b->is_octave);
}

/* Octaves are compared as octaves: predicted tau averaged over the three thirds. */
static double predicted_for(const gradin_glazed *g, int band) {
    if (!g->measured.is_octave) return g->predicted.r_db[band];
    double tau = 0.0;
    for (int i = 0; i < 3; i++) tau += pow(10.0, -0.1 * g->predicted.r_db[3 * (band / 3) + i]);
    return -10.0 * log10(tau / 3.0);
}

static void find_difference(gradin_glazed *g, bool is_shaded) {
    double sum = 0.0;
    int n = 0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        bool applies = !is_shaded && g->measured.is_given && g->predicted.is_given &&
                       isfinite(g->measured.r_db[b]) && (!g->measured.is_octave || b % 3 == 1);
        g->difference_db[b] = applies ? predicted_for(g, b) - g->measured.r_db[b] : NAN;
        if (!applies) continue;
        sum += fabs(g->difference_db[b]);
        n++;
    }
    g->mean_abs_db = n > 0 ? sum / n : NAN;
}

static gradin_status fill(gradin_glazed *g, const gradin_buildup *buildup,
                          const gradin_glazing_view *view, gradin_error *error) {
    *g = (gradin_glazed){.buildup = buildup, .mass_kgm2 = NAN, .shear_pa = NAN, .shear_loss = NAN};
    for (int b = 0; b < GRADIN_N_BAND; b++) g->measured.r_db[b] = g->predicted.r_db[b] = NAN;
    gradin_status status = buildup->layer ? predict(g, view, error) : GRADIN_OK;
    if (status == GRADIN_OK && buildup->is_measured) copy_measured(g);
    find_difference(g, view->shade != NULL);
    return status;
}

gradin_status gradin_glazing_compare(gradin_arena *arena, const gradin_buildups *buildups,
                                     const gradin_glazing_view *view, gradin_glazing_sheet *sheet,
                                     gradin_error *error) {
    const gradin_glazing_view plain = {.shade = NULL};
    if (NEEDS(error, arena, buildups, sheet) != GRADIN_OK ||
        NEEDS(error, buildups->buildup) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (buildups->n_buildup > GRADIN_MAX_GLAZED)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d build-ups are too many to compare; name at most %d",
                                buildups->n_buildup, GRADIN_MAX_GLAZED);
    gradin_glazed *glazed = gradin_arena_alloc(arena, (size_t)buildups->n_buildup, sizeof *glazed);
    if (!glazed) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for glazing");
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < buildups->n_buildup && status == GRADIN_OK; i++)
        status = fill(&glazed[i], &buildups->buildup[i], view ? view : &plain, error);
    *sheet =
        (gradin_glazing_sheet){buildups, glazed, buildups->n_buildup, view ? *view : plain, NULL};
    return status;
}
