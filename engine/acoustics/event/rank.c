/* Parts of the facade by the power they let in at the room's maximum.
 *
 * Power of a part in a band: the wave that meets its element then, times the part's S tau
 * (element.c) and what it passes at that angle (angle.c); A-weighted sums over the bands. A part
 * made perfect takes its power away and nothing else: the A-weighted level falls by 10 lg(1 -
 * share), and D2m,nT,w is rated again without its S tau. Limits: power let into the room, not what
 * one seat hears of it. */
#include "base/use.h"
#include "gradin/acoustics/facade.h"
#include "model/complete.h"

#include "acoustics/bands/bands.h"
#include "acoustics/envelope/element.h"

#include <string.h>

typedef struct tally {
    gradin_facade_part *part;                                 /* [n] */
    double (*power)[GRADIN_N_BAND], (*tau_m2)[GRADIN_N_BAND]; /* [n] */
    int n;
} tally;

static const char *entry_of(const gradin_element *element) {
    return element->entry ? element->entry : element->name;
}

static int part_at(tally *t, const gradin_element *element, gradin_part_kind kind) {
    for (int i = 0; i < t->n; i++)
        if (t->part[i].kind == kind && strcmp(t->part[i].entry, entry_of(element)) == 0) return i;
    t->part[t->n] = (gradin_facade_part){entry_of(element), element->kind, kind, .share = 0.0};
    return t->n++;
}

static bool has_part(const gradin_element *element, gradin_part_kind kind) {
    bool is_vent = element->kind == GRADIN_ELEMENT_VENT;
    if (kind == GRADIN_PART_VENT || is_vent) return is_vent && kind == GRADIN_PART_VENT;
    if (kind == GRADIN_PART_SEALS) return element->joint_m > 0.0;
    if (element->buildup < 0) return false; /* a wall or roof that is not stated */
    return kind == GRADIN_PART_BODY ||
           (element->kind == GRADIN_ELEMENT_DOOR && element->open > 0.0);
}

static void add_element(tally *t, const gradin_model *model, const gradin_noise *noise, int e,
                        gradin_shade_state state) {
    const gradin_element *element = &model->element[e];
    double tau_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND];
    gradin_element_parts_m2(model, element, &noise->glass[e], state, tau_m2);
    for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++) {
        if (!has_part(element, (gradin_part_kind)kind)) continue;
        int i = part_at(t, element, (gradin_part_kind)kind);
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double share = kind == GRADIN_PART_BODY
                               ? noise->body_share[e][b]
                               : gradin_angle_share(&noise->glass[e], (gradin_part_kind)kind, b,
                                                    noise->incident_angle_rad[e]);
            t->power[i][b] += noise->incident[e][b] * tau_m2[kind][b] * share;
            t->tau_m2[i][b] += tau_m2[kind][b];
        }
    }
}

static double a_weighted(const double *power) {
    double sum = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) sum += power[b] * gradin_a_energy(b);
    return sum;
}

static void total_of(double (*part)[GRADIN_N_BAND], int n, double *total) {
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        total[b] = 0.0;
        for (int i = 0; i < n; i++) total[b] += part[i][b];
    }
}

/* D2m,nT has no facade area in it: that of R' cancels. */
static int d2m_nt_w_db(const double *tau_m2, double volume_m3) {
    double d_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        d_db[b] = gradin_d2m_nt_db(gradin_composite_r_db(&tau_m2[b], 1, 1.0), 0.0, volume_m3, 1.0);
    return gradin_rate_thirds(&d_db[GRADIN_BAND_100_HZ]).rating_db;
}

static void find_shares(tally *t, double volume_m3) {
    double power[GRADIN_N_BAND], tau_m2[GRADIN_N_BAND], rest_m2[GRADIN_N_BAND];
    total_of(t->power, t->n, power);
    total_of(t->tau_m2, t->n, tau_m2);
    double all = a_weighted(power);
    for (int i = 0; i < t->n; i++) {
        gradin_facade_part *part = &t->part[i];
        part->share = all > 0.0 ? a_weighted(t->power[i]) / all : 0.0;
        part->without_db = t->n > 1 ? 10.0 * log10(fmax(1.0 - part->share, 0.0)) : -INFINITY;
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            part->band_share[b] = power[b] > 0.0 ? t->power[i][b] / power[b] : 0.0;
            rest_m2[b] = fmax(tau_m2[b] - t->tau_m2[i][b], 0.0);
        }
        part->d2m_nt_w_without_db = d2m_nt_w_db(rest_m2, volume_m3);
    }
}

/* Largest first; equal shares in the order of the facade. */
static void rank(gradin_facade_part *part, int n) {
    for (int i = 1; i < n; i++) {
        gradin_facade_part moved = part[i];
        int at = i;
        for (; at > 0 && part[at - 1].share < moved.share; at--) part[at] = part[at - 1];
        part[at] = moved;
    }
}

static gradin_status alloc(gradin_arena *arena, gradin_arena *scratch, int n_element, tally *t) {
    size_t most = (size_t)n_element * GRADIN_N_PART_KIND;
    *t = (tally){.part = gradin_arena_alloc(arena, most, sizeof *t->part),
                 .power = gradin_arena_alloc(scratch, most, sizeof *t->power),
                 .tau_m2 = gradin_arena_alloc(scratch, most, sizeof *t->tau_m2)};
    return t->part && t->power && t->tau_m2 ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static gradin_status rank_states(gradin_arena *arena, gradin_arena *scratch,
                                 const gradin_model *model, const gradin_noise *noise,
                                 gradin_facade *facade, gradin_error *error) {
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        tally t;
        if (alloc(arena, scratch, model->n_element, &t) != GRADIN_OK)
            return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
        for (int e = 0; e < model->n_element; e++)
            add_element(&t, model, noise, e, (gradin_shade_state)state);
        find_shares(&t, model->volume_m3);
        rank(t.part, t.n);
        facade->part[state] = t.part;
        facade->n_part = t.n;
    }
    return GRADIN_OK;
}

gradin_status gradin_facade_rank(gradin_arena *arena, const gradin_model *model,
                                 const gradin_noise *noise, gradin_facade *facade,
                                 gradin_error *error) {
    if (NEEDS(error, arena, noise, facade) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!model->pass)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "shares need the noise of a pass");
    *facade = (gradin_facade){.n_part = 0};
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = rank_states(arena, scratch, model, noise, facade, error);
    gradin_arena_destroy(scratch);
    return status;
}
