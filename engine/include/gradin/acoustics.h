/* gradin/acoustics.h: noise from outside. Bands and ratings, glazing, facade, an overflight, the
 * room. Bands are the 21 one-third octaves 50 Hz .. 5 kHz unless said; octaves are the 7 from 63 Hz
 * to 4 kHz. Levels dB re 20 uPa, reduction in dB.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model, which
 * must outlive them; rooms and noise are computed from one thread of a process at a time, for they
 * set the threads of BLAS, and all else from any. */
#ifndef GRADIN_ACOUSTICS_H
#define GRADIN_ACOUSTICS_H

#include "gradin/acoustics/uncertainty.h"
#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Bands (IEC 61260-1, IEC 61672-1). */

GRADIN_API double gradin_band_mid_hz(int band);      /* exact base-10 mid-band, band 0 is 50 Hz */
GRADIN_API double gradin_octave_mid_hz(int octave);  /* exact, octave 0 is 63 Hz */
GRADIN_API int gradin_octave_nominal_hz(int octave); /* 63 .. 4000 */
GRADIN_API double gradin_a_weight_db(double f_hz);   /* IEC 61672-1 Annex E */
/* Energy sum of n levels; -INFINITY levels add nothing. */
GRADIN_API double gradin_level_sum_db(const double *level_db, int n);
/* A-weighted sum of [GRADIN_N_BAND] at exact mid-bands. */
GRADIN_API double gradin_level_a_db(const double *band_db);
/* Three thirds to each octave: band_db[GRADIN_N_BAND] -> octave_db[GRADIN_N_OCTAVE]. */
GRADIN_API void gradin_octaves_db(const double *band_db, double *octave_db);

/* Ratings. */

typedef struct gradin_weighted {
    int rating_db;              /* Rw, D2m,nT,w ... */
    int c_db, ctr_db;           /* spectrum adaptation terms C and Ctr */
    double unfavourable_sum_db; /* at the final shift */
    int shift_db;
    double deviation_db[16]; /* unfavourable deviations; 16 thirds or the first 5 for octaves */
    double x_c_db, x_ctr_db; /* XA1, XA2 before rounding */
} gradin_weighted;

/* ISO 717-1: r_db[16] thirds 100..3150 Hz (one decimal each; rounded so here). */
GRADIN_API gradin_weighted gradin_rate_thirds(const double r_db[16]);
/* ISO 717-1 octaves: r_db[5], 125..2000 Hz. */
GRADIN_API gradin_weighted gradin_rate_octaves(const double r_db[5]);
/* ASTM E413: tl_db[16] thirds 125..4000 Hz; *limited_band gets the index of the band that the 8 dB
 * rule stops, or -1. */
GRADIN_API int gradin_stc(const double tl_db[16], int *limited_band);
/* ASTM E1332: tl_db[18] thirds 80..4000 Hz. */
GRADIN_API int gradin_oitc(const double tl_db[18]);
GRADIN_API double
gradin_nr_level_db(double nr, int octave_31_to_8k); /* ISO R 1996 curve, octave 0 is 31.5 Hz */
/* NC curve value of ANSI/ASA S12.2-2019 at octave i in [0,8), 63 Hz to 8 kHz; NC 15..70, linear
 * between tabled curves. */
GRADIN_API double gradin_nc_level_db(double nc, int octave);
/* NC by tangency of octaves 63..4000 [GRADIN_N_OCTAVE]; 15 stands for 15 or below, 70 for 70 or
 * above; *octave (may be NULL) gets the band that sets it. */
GRADIN_API double gradin_nc(const double *octave_db, int *octave);

/* Air (ISO 9613-1). */

/* Pure-tone attenuation coefficient, dB/m. */
GRADIN_API double gradin_air_absorption_dbm(double f_hz, double temperature_c, double humidity_pct,
                                            double pressure_kpa);
GRADIN_API double gradin_air_speed_ms(double temperature_c);

/* Glazing. */

/* Sound reduction index R[GRADIN_N_BAND] of a build-up at diffuse incidence; measured data as
 * given. GRADIN_BAD_INPUT for a build-up that no theory here covers (say, two gaps in a row). */
GRADIN_API gradin_status gradin_glazing_r_db(const gradin_buildup *buildup, double *r_db,
                                             gradin_error *error);
/* The same for a rectangular pane of another size; measured data as given. */
GRADIN_API gradin_status gradin_glazing_finite_r_db(const gradin_buildup *buildup, double width_m,
                                                    double height_m, double *r_db,
                                                    gradin_error *error);
/* Insertion loss of layers [n_layer] behind the inner face of a build-up with layers; width_m 0
 * stands for that of the usual sample. */
GRADIN_API gradin_status gradin_glazing_insertion_db(const gradin_buildup *buildup,
                                                     const gradin_layer *layer, int n_layer,
                                                     double width_m, double height_m,
                                                     double *loss_db, gradin_error *error);
/* Mass of a square metre; 0 without layers. */
GRADIN_API double gradin_glazing_mass_kgm2(const gradin_buildup *buildup);

/* Facade (ISO 12354-3). */

/* Composite R' of elements: tau_sum = sum(S_i/S tau_i) + sum(A0/S 10^(-Dn,e/10)). part_tau[n] are
 * S_i tau_i in m2 or A0 10^(-Dn,e/10); area_m2 is S. */
GRADIN_API double gradin_composite_r_db(const double *part_tau_m2, int n, double area_m2);
/* D2m,nT = R' + dL_fs + 10 lg(V/(6 T0 S)), T0 = 0.5 s. */
GRADIN_API double gradin_d2m_nt_db(double r_db, double delta_l_fs_db, double volume_m3,
                                   double area_m2);

/* The room. */

typedef enum gradin_shade_state {
    GRADIN_SHADES_AS_SET,
    GRADIN_SHADES_OPEN,
    GRADIN_SHADES_SHUT,
    GRADIN_N_SHADE_STATE
} gradin_shade_state;

/* Per seat. */

typedef struct gradin_by_angle gradin_by_angle; /* the library's own */

/* What stands in one element of the facade, its seals apart. */
typedef struct gradin_glass {
    double r_db[GRADIN_N_BAND]; /* of its build-up, at its own size if the model says so */
    double uncertainty_db[GRADIN_N_BAND]; /* standard, of r_db, or of a vent's Dn,e: systematic */
    const gradin_by_angle
        *by_angle; /* what it passes by the angle of the wave, of a prepared room; else NULL */
    double shade_db[GRADIN_N_BAND]; /* insertion loss of its shade when shut */
    double site_db[GRADIN_N_BAND];  /* on top of all its reduction, by a measurement at the site */
} gradin_glass;

/* The prediction held against a measurement at the site, standard uncertainties. */
typedef struct gradin_calibration {
    bool is_there;
    double measured_db[GRADIN_N_BAND], predicted_db[GRADIN_N_BAND]; /* D2m,nT */
    double correction_db[GRADIN_N_BAND]; /* on top of the prediction, as far as it is believed */
    double predicted_unsure_db[GRADIN_N_BAND], corrected_unsure_db[GRADIN_N_BAND];
    int predicted_w_db, corrected_w_db; /* D2m,nT,w */
} gradin_calibration;

/* A part of the envelope whose sound reduction is not stated. */
enum { GRADIN_GAP_ROOF, GRADIN_GAP_WALLS, GRADIN_N_GAP };

typedef struct gradin_gap {
    const char *what; /* "roof", "walls" */
    double area_m2;
    const gradin_construction *light, *heavy; /* of common kinds */
    double light_db, heavy_db; /* what each would add to the median seat's maximum, A-weighted */
    double light_octave_db[GRADIN_N_OCTAVE]; /* the light one by octave */
} gradin_gap;

typedef struct gradin_gaps {
    int n_gap; /* 0 when roof and walls are all stated, up to a square metre */
    gradin_gap gap[GRADIN_N_GAP];
    gradin_ground ground; /* before the facade, as stated */
    double adds_db;       /* what all of it may add: the light kinds, and hard ground; A-weighted */
    double adds_octave_db[GRADIN_N_OCTAVE]; /* the same by octave: a light roof adds most in low
                                               ones */
} gradin_gaps;

typedef struct gradin_noise {
    int n_seat, n_element, n_buildup;
    int n_patch;                        /* of the room's surface, by radiosity; 0 when diffuse */
    char cache_note[GRADIN_TEXT_CHARS]; /* why the room could not be kept in the folder, or "" */
    char room_note[GRADIN_TEXT_CHARS];  /* what to know of the room's method, or "" */
    gradin_time_weighting weighting;    /* of all maxima */
    double *lamax_db[GRADIN_N_SHADE_STATE]; /* each [n_seat]: A-weighted maximum over the pass */
    double *laeq_db;                        /* [n_seat] over window_s, shades as set */
    double *band_db;      /* [n_seat][GRADIN_N_BAND] at the time of the maximum, as set */
    double *nc;           /* [n_seat] at the maximum, as set */
    double *excess_db;    /* [n_seat] largest octave excess over the hall's NC; NAN without one */
    int *loudest_element; /* [n_seat] element that brings most A-weighted energy at the maximum */
    double *r_db;         /* [n_buildup][GRADIN_N_BAND] of the usual sample */
    gradin_glass *glass;  /* [n_element] */
    gradin_weighted *rw;  /* [n_buildup] */
    double facade_r_db[GRADIN_N_SHADE_STATE][GRADIN_N_BAND]; /* composite R', diffuse */
    int d2m_nt_w_db[GRADIN_N_SHADE_STATE];
    double *share; /* [n_element] share of the A-weighted power let in at the room's maximum */
    double reverberation_s[GRADIN_N_BAND]; /* Eyring with air, as set */
    double (*incident)[GRADIN_N_BAND];   /* [n_element] intensity times rho c of the wave that meets
                                            each element at the room's maximum */
    double (*body_share)[GRADIN_N_BAND]; /* [n_element] power that its closed part passes of that
                                            wave, over intensity x S tau */
    double *incident_angle_rad;          /* [n_element] of that wave from the outward normal */
    double outside_lamax_db;             /* free field at the point of the room nearest the track */
    double maximum_s;                    /* time of the room's maximum, 0 at the closest approach */
    double closest_m;                    /* least distance from the track to the room */
    double window_s;                     /* within 30 dB of the maximum outside */
    gradin_gaps gaps;                    /* what of the envelope is in no level */
    gradin_uncertainty uncertainty;
    const char *uncertainty_source; /* what it is made of and where that is from */
    gradin_calibration calibration;
    double *lamax_predicted_db; /* [n_seat] as set, without the site's correction; NULL without */
    double *systematic_db;      /* [n_seat] of the A-weighted maximum, shades as set */
    double *uncertainty_db;     /* [n_seat] of one event's: systematic and scatter */
    gradin_verdict *verdict;    /* [n_seat] one event against the hall's NC and LAmax */
    gradin_verdict *lamax_verdict[GRADIN_N_SHADE_STATE]; /* [n_seat] against LAmax alone */
} gradin_noise;

/* Needs model->pass and at least one element, else GRADIN_BAD_USE. Results into the arena; the same
 * for any thread count. cache_folder (NULL: none) as for gradin_room_prepare(). */
GRADIN_API gradin_status gradin_noise_compute(gradin_arena *arena, const gradin_model *model,
                                              const char *cache_folder, gradin_noise *noise,
                                              gradin_error *error);

/* GRADIN_BAD_INPUT with all that gradin_noise_compute() would refuse of the model's overflight and
 * room, all at once; GRADIN_OK where it states no overflight or no facade. Left to the computation:
 * a measured reverberation that radiosity alone cannot reach. */
GRADIN_API gradin_status gradin_noise_check(gradin_arena *arena, const gradin_model *model,
                                            gradin_error *error);

/* One BLAS thread for as long as threads of our own run: results then depend on no thread count.
 * Returns what to give back. */
GRADIN_API int gradin_blas_single(void);
GRADIN_API void gradin_blas_restore(int n_thread);

#ifdef __cplusplus
}
#endif

#endif
