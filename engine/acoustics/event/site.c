/* A measurement at the site against the prediction of the envelope.
 *
 * ISO 16283-3:2016 gives (1) D2m,nT = L1,2m - L2 + 10 lg(T/T0), T0 = 0.5 s, of a facade; ISO
 * 12354-3 predicts the same figure from what the envelope lets in (envelope/composite.c), with all
 * shades open or shut as they were. Their difference by band corrects the reduction of every
 * element alike.
 *
 * Neither is certain. The measurement has the standard uncertainty u of ISO 12999-1:2020 Table 2,
 * situation B (another team in the same building; reference/iso-12999-1), the prediction that of
 * the envelope, v. What is believed of the difference is (2) v2/(u2 + v2) of it, and what is left
 * is known to (3) u v/sqrt(u2 + v2): the best linear estimate of two independent figures of one
 * quantity, each weighted by 1 over its variance (JCGM 100:2008, clause 5.1 gives the variance of
 * such a sum). Source and room keep their own uncertainties.
 *
 * Octaves are held against octaves (three thirds of equal level outside), and their difference
 * counts for all three. Beyond the bands that were measured (63 Hz beside octaves; below 100 and
 * above 3150 Hz beside the 16 thirds of a report) the nearest one's correction stands, and the
 * uncertainty of the prediction stays. Limits: one correction for the whole envelope, roof and
 * walls included, though a loudspeaker on the ground tries the facade alone: only the method with
 * aircraft noise tries all. ISO 12999-1 states its table for airborne insulation in general. */
#include "acoustics/event/site.h"
#include "acoustics/bands/bands.h"
#include "acoustics/envelope/element.h"

#include <string.h>

static const double reference_s = 0.5;

/* Table 2, situation B. */
static const double measured_unsure_db[GRADIN_N_BAND] = {4.0, 3.6, 3.2, 2.8, 2.4, 2.0, 1.8,
                                                         1.6, 1.4, 1.2, 1.1, 1.0, 1.0, 1.0,
                                                         1.0, 1.0, 1.0, 1.3, 1.6, 1.9, 2.2};

void gradin_site_d2m_nt_db(const gradin_site *site, double *d_db) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        d_db[b] = !isnan(site->d2m_nt_db[b])
                      ? site->d2m_nt_db[b]
                      : site->outside_db[b] - site->inside_db[b] +
                            10.0 * log10(site->reverberation_s[b] / reference_s); /* (1) */
}

/* Six octaves, spread over their thirds as they are read. */
static bool is_by_octave(const double *d_db) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (d_db[b] != d_db[b < 3 ? 3 : b - b % 3]) return false;
    return true;
}

/* Of three thirds alike in level outside. */
static double octave_db(const double *d_db, int octave) {
    double sum = 0.0;
    for (int i = 0; i < 3; i++) sum += pow(10.0, -0.1 * d_db[3 * octave + i]) / 3.0;
    return -10.0 * log10(sum);
}

static int rate(const double *d_db) {
    return gradin_rate_thirds(&d_db[GRADIN_BAND_100_HZ]).rating_db;
}

static void weigh_band(gradin_calibration *c, int band, double excess_db, double u) {
    double v = c->predicted_unsure_db[band];
    c->correction_db[band] = excess_db * v * v / (u * u + v * v); /* (2) */
    c->corrected_unsure_db[band] = u * v / hypot(u, v);           /* (3) */
}

/* The band itself where it was measured, else the nearest that was. */
static int measured_band(const double *d_db, bool by_octave, int band) {
    int first = by_octave ? 3 : 0, last = GRADIN_N_BAND - 1;
    while (first < last && isnan(d_db[first])) first++;
    while (last > first && isnan(d_db[last])) last--;
    return band < first ? first : band > last ? last : band;
}

static void weigh_all(gradin_calibration *c, bool by_octave) {
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        int at = measured_band(c->measured_db, by_octave, b), octave = at / 3;
        double excess_db = by_octave ? c->measured_db[at] - octave_db(c->predicted_db, octave)
                                     : c->measured_db[at] - c->predicted_db[at];
        weigh_band(c, b, excess_db, measured_unsure_db[by_octave ? 3 * octave + 1 : at]);
        if (at != b) c->corrected_unsure_db[b] = c->predicted_unsure_db[b];
    }
}

void gradin_site_weigh(const gradin_site *site, gradin_calibration *c) {
    double corrected_db[GRADIN_N_BAND];
    c->is_there = true;
    gradin_site_d2m_nt_db(site, c->measured_db);
    weigh_all(c, is_by_octave(c->measured_db));
    for (int b = 0; b < GRADIN_N_BAND; b++)
        corrected_db[b] = c->predicted_db[b] + c->correction_db[b];
    c->predicted_w_db = rate(c->predicted_db);
    c->corrected_w_db = rate(corrected_db);
}

/* D2m,nT as predicted; the area of the facade cancels in it. */
static void predict(const gradin_prepared_room *room, gradin_shade_state state,
                    const gradin_glass *glass, double *d_db) {
    const gradin_model *model = room->model;
    double sum_m2[GRADIN_N_BAND] = {0.0}, tau_m2[GRADIN_N_BAND];
    for (int e = 0; e < model->n_element; e++) {
        gradin_element_tau_m2(model, &model->element[e], &glass[e], state, tau_m2);
        for (int b = 0; b < GRADIN_N_BAND; b++) sum_m2[b] += tau_m2[b];
    }
    for (int b = 0; b < GRADIN_N_BAND; b++)
        d_db[b] =
            gradin_d2m_nt_db(gradin_composite_r_db(&sum_m2[b], 1, 1.0), 0.0, model->volume_m3, 1.0);
}

void gradin_site_correct(gradin_prepared_room *room, gradin_glass *glass) {
    gradin_calibration *c = &room->calibration;
    const gradin_site *site = room->model->site;
    memcpy(c->predicted_unsure_db, room->uncertainty.envelope_db, sizeof c->predicted_unsure_db);
    predict(room, site->is_shut ? GRADIN_SHADES_SHUT : GRADIN_SHADES_OPEN, glass, c->predicted_db);
    gradin_site_weigh(site, c);
    for (int e = 0; e < room->model->n_element; e++)
        memcpy(glass[e].site_db, c->correction_db, sizeof glass[e].site_db);
    memcpy(room->uncertainty.envelope_db, c->corrected_unsure_db,
           sizeof room->uncertainty.envelope_db);
}

double gradin_site_predicted_dba(const gradin_calibration *c, const double *band_db) {
    double bare_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) bare_db[b] = band_db[b] + c->correction_db[b];
    return gradin_level_a_db(bare_db);
}
