/* Plane-wave transmission through parts in any order, elastic layers among them, as one linear
 * system a wave, e^(j(wt - kx x)).
 *
 * Method: global matrix. L. Knopoff, "A matrix method for elastic wave problems", Bull. Seismol.
 * Soc. Am. 54 (1964) 431-438; M. J. S. Lowe, "Matrix techniques for modeling ultrasonic waves in
 * multilayered media", IEEE Trans. UFFC 42 (1995) 525-542 (both from memory). Unknowns: the
 * reflected wave; in a fluid two waves, in an elastic layer two of compression and two of shear,
 * each of unit size at the face it leaves so that nothing grows; the transmitted wave. At a face
 * with a fluid: equal normal velocity and stress, no shear stress; between elastic layers: equal
 * velocities and stresses. Panels and sheets have no thickness of their own: they add a step of
 * pressure Z v to the face they lie on, and layers slide on them. Solved by LAPACK zgbsv: no
 * unknown meets one that is two fields away.
 * Waves from potentials phi, psi with alpha2 = w2/cl2 - kx2, beta2 = w2/ct2 - kx2:
 *   (1) phi: ux = -j kx, uz = -+j alpha, szz = -mu (beta2 - kx2), sxz = -+2 mu kx alpha
 *   (2) psi: ux = +-j beta, uz = -j kx, szz = -+2 mu kx beta, sxz = mu (beta2 - kx2)
 * Limits: as tmm.c. */
#include "acoustics/glazing/tmm.h"

#include <lapacke.h>

enum {
    MAX_WAVE = 4,
    BAND = 5, /* row and column that meet are at most this far apart: half of one layer's waves,
                 then those of the next */
    MAX_UNKNOWN = MAX_WAVE * GLAZING_MAX_LAYER + 2,
    ROWS = 3 * BAND + 1
};

typedef enum quantity { PRESSURE, NORMAL, TANGENT, SHEAR, N_QUANTITY } quantity;

/* Waves of one fluid or elastic layer, or of the air outside: what each wave of unit size carries
 * at the left and at the right face. Pressures as they are, velocities times the air's impedance.
 */
typedef struct field {
    int n_wave, column;
    bool is_solid;
    double complex left[N_QUANTITY][MAX_WAVE], right[N_QUANTITY][MAX_WAVE];
} field;

typedef struct wave_system {
    int n, row;
    lapack_complex_double band[MAX_UNKNOWN * ROWS], answer[MAX_UNKNOWN];
} wave_system;

/* The root that decays with increasing depth. */
static double complex depth_number(double complex square) {
    double complex root = csqrt(square);
    return cimag(root) > 0.0 ? -root : root;
}

static void put_fluid(field *f, const glazing_fluid *fluid, double kx2, double z_air) {
    double complex kz = depth_number(fluid->k2_1m2 - kx2 * fluid->lighter);
    if (kz == 0.0) kz = 1e-9 * csqrt(fluid->k2_1m2);
    double complex fade = cexp(-I * kz * fluid->thickness_m);
    double complex v = z_air * kz / fluid->inertia_pasm2;
    f->n_wave = 2;
    f->left[PRESSURE][0] = f->right[PRESSURE][1] = 1.0;
    f->right[PRESSURE][0] = f->left[PRESSURE][1] = fade;
    f->left[NORMAL][0] = v;
    f->right[NORMAL][1] = -v;
    f->right[NORMAL][0] = v * fade;
    f->left[NORMAL][1] = -v * fade;
}

static void put_wave(field *f, int wave, const double complex value[N_QUANTITY],
                     double complex fade) {
    for (int q = 0; q < N_QUANTITY; q++) {
        bool is_forward = wave % 2 == 0;
        f->left[q][wave] = is_forward ? value[q] : value[q] * fade;
        f->right[q][wave] = is_forward ? value[q] * fade : value[q];
    }
}

static void put_solid(field *f, const glazing_solid *solid, double kx, double w, double z_air) {
    double complex mu = solid->shear_pa, inertia = solid->density_kgm3 * w * w;
    double complex alpha = depth_number(inertia / (solid->lame_pa + 2.0 * mu) - kx * kx);
    double complex beta = depth_number(inertia / mu - kx * kx), rest = beta * beta - kx * kx;
    double complex to_v = I * w * z_air / inertia; /* all of a wave is divided by the inertia */
    mu /= inertia;
    f->n_wave = 4;
    f->is_solid = true;
    for (int wave = 0; wave < 2; wave++) {
        double sign = wave ? -1.0 : 1.0; /* PRESSURE is -szz */
        put_wave(f, wave,                /* (1) */
                 (double complex[]){mu * rest, to_v * (-sign * I * alpha), to_v * (-I * kx),
                                    -sign * 2.0 * mu * kx * alpha},
                 cexp(-I * alpha * solid->thickness_m));
        put_wave(f, 2 + wave, /* (2) */
                 (double complex[]){sign * 2.0 * mu * kx * beta, to_v * (-I * kx),
                                    to_v * (sign * I * beta), mu * rest},
                 cexp(-I * beta * solid->thickness_m));
    }
}

static void put(wave_system *s, int column, double complex value) {
    s->band[column * ROWS + 2 * BAND + s->row - column] += value;
}

/* One row: sum of a quantity on the left of the face, less that on its right. */
static void put_balance(wave_system *s, const field *a, const field *b, quantity q) {
    for (int i = 0; i < a->n_wave; i++) put(s, a->column + i, a->right[q][i]);
    for (int i = 0; i < b->n_wave; i++) put(s, b->column + i, -b->left[q][i]);
}

static void put_free(wave_system *s, const field *f, const double complex shear[MAX_WAVE]) {
    if (!f->is_solid) return;
    for (int i = 0; i < f->n_wave; i++) put(s, f->column + i, shear[i]);
    s->row++;
}

/* series is Z over the air's impedance of what lies on the face. */
static void put_face(wave_system *s, const field *a, const field *b, double complex series,
                     bool is_glued) {
    put_balance(s, a, b, PRESSURE);
    for (int i = 0; i < b->n_wave; i++) put(s, b->column + i, -series * b->left[NORMAL][i]);
    s->row++;
    put_balance(s, a, b, NORMAL);
    s->row++;
    if (is_glued) {
        put_balance(s, a, b, TANGENT);
        s->row++;
        put_balance(s, a, b, SHEAR);
        s->row++;
    } else {
        put_free(s, a, a->right[SHEAR]);
        put_free(s, b, b->left[SHEAR]);
    }
}

static bool solve(wave_system *s) {
    lapack_int pivot[MAX_UNKNOWN];
    return LAPACKE_zgbsv(LAPACK_COL_MAJOR, s->n, BAND, BAND, 1, s->band, ROWS, pivot, s->answer,
                         s->n) == 0;
}

static double complex panel_series(const glazing_part *part, double kx, double w) {
    if (part->kind == GLAZING_SHEET) return part->series_pasm;
    return (gradin_glazing_stiffness(&part->panel, kx, w) - w * w * part->panel.mass_kgm2) /
               (I * w) +
           gradin_glazing_rim(&part->edges, kx);
}

static void put_parts(wave_system *s, const glazing_stack *tuned, double kx, double w,
                      double z_air) {
    field before = {.n_wave = 1}; /* the reflected wave */
    double complex series = 0.0;
    bool is_bare = true; /* nothing lies on the face */
    before.right[PRESSURE][0] = 1.0;
    before.right[NORMAL][0] = -1.0;
    s->answer[0] = -1.0; /* the incident wave of 1 Pa, on the other side of the first two rows */
    s->answer[1] = -1.0;
    for (int i = 0; i < tuned->n_part; i++) {
        const glazing_part *part = &tuned->part[i];
        field here = {.column = before.column + before.n_wave};
        if (part->kind == GLAZING_FLUID) {
            put_fluid(&here, &part->fluid, gradin_glazing_along(&part->fluid, kx, w, z_air), z_air);
        } else if (part->kind == GLAZING_SOLID) {
            put_solid(&here, &part->solid, kx, w, z_air);
            if (!(is_bare && before.is_solid))
                series += gradin_glazing_rim(&part->edges, kx) / z_air;
        } else {
            series += panel_series(part, kx, w) / z_air;
            is_bare = false;
            continue;
        }
        put_face(s, &before, &here, series, is_bare && before.is_solid && here.is_solid);
        before = here;
        series = 0.0;
        is_bare = true;
    }
    field inside = {.n_wave = 1, .column = before.column + before.n_wave};
    inside.left[PRESSURE][0] = inside.left[NORMAL][0] = 1.0;
    put_face(s, &before, &inside, series, false);
    s->n = s->row;
}

double gradin_glazing_tau_layered(const glazing_stack *tuned, glazing_wave wave) {
    wave_system s = {.n = 0};
    put_parts(&s, tuned, wave.kx_radm, 2.0 * GRADIN_PI * tuned->f_hz, wave.z_air_pasm);
    if (!solve(&s)) return NAN;
    double real = creal(s.answer[s.n - 1]), imaginary = cimag(s.answer[s.n - 1]);
    double tau = real * real + imaginary * imaginary;
    return tau > 1.0 ? 1.0 : tau; /* above 1 by rounding only */
}
