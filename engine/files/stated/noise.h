/* files/stated/noise.h: an overflight and a season of traffic as their files state them. */
#ifndef GRADIN_FILES_STATED_NOISE_H
#define GRADIN_FILES_STATED_NOISE_H

#include "files/schema/schema.h"
#include "gradin/acoustics/traffic.h"
#include "gradin/layout.h"

typedef struct stated_lobe {
    const node *at;
    double from_hz, to_hz;
    double *angle_deg, *gain_db; /* [n_angle], [n_gain] */
    int n_angle, n_gain;
} stated_lobe;

typedef struct stated_directivity {
    const node *at;
    stated_lobe *lobe;
    int n_lobe;
    const char *file;
    bool is_mean_level;
} stated_directivity;

typedef struct stated_air {
    double temperature_c, humidity_pct, pressure_kpa;
} stated_air;

typedef struct stated_flight {
    gradin_vec2 point_m;
    double altitude_m, bearing_deg, speed_ms;
} stated_flight;

typedef struct stated_spectrum {
    double reference_m, *level_db; /* [n_level], NULL: in a file */
    int n_level;
    const char *file;
    stated_directivity *directivity;
} stated_spectrum;

typedef struct stated_method {
    bool has_lateral, has_impedance;
    int weighting;
} stated_method;

typedef struct stated_doubt {
    double source_db, scatter_db;
} stated_doubt;

typedef struct stated_pass {
    const char *name;
    stated_flight track;
    stated_spectrum spectrum;
    stated_air air;
    stated_method method;
    stated_doubt uncertainty;
    int weighting; /* gradin_time_weighting */
} stated_pass;

typedef struct stated_class {
    const node *at;
    const char *name;
    double scatter_db;
    stated_spectrum spectrum;
} stated_class;

typedef struct stated_place {
    gradin_vec2 at_m;
    double height_m, hold_s, bearing_deg;
} stated_place;

typedef struct stated_track {
    const node *at;
    const char *name, *file;
    stated_flight *straight;
    stated_place *fixed;
} stated_track;

typedef struct stated_background {
    const node *at;
    const char *name;
    double nc, *level_db; /* [n_level] */
    int n_level;
    const char *file;
} stated_background;

typedef struct stated_performance {
    const char *start;
    double minutes, sii_least, background_nc, limit_dba;
    double *more_limit_dba;        /* [n_more_limit] */
    stated_background *background; /* [n_background] */
    int n_more_limit, n_background, voice;
} stated_performance;

typedef struct stated_periods {
    const char *start[GRADIN_N_PERIOD];
    double penalty_db[GRADIN_N_PERIOD];
} stated_periods;

typedef struct stated_span {
    const node *at;
    const char *from, *to;
} stated_span;

typedef struct stated_traffic {
    const node *at;
    const char *name, *events;
    stated_class *class_of;
    stated_track *track;
    int n_class, n_track;
    stated_performance performance;
    stated_periods periods;
    stated_span *span;
    stated_air air;
    stated_method method;
    stated_doubt uncertainty;
} stated_traffic;

extern const schema_table directivity_table;
extern const schema_file pass_schema, traffic_schema;

#endif
