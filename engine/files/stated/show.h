/* files/stated/show.h: a show as its file states it. */
#ifndef GRADIN_FILES_STATED_SHOW_H
#define GRADIN_FILES_STATED_SHOW_H

#include "files/schema/schema.h"
#include "gradin/model.h"
#include "gradin/show.h"

typedef struct stated_must {
    int seats, wheelchairs;
    double stage_m2, clear_share, good_share, distance_m;
    int *not_form; /* [n_not_form] */
    int n_not_form;
    const node *at;
} stated_must;

typedef struct stated_quiet {
    const char *traffic;
    double limit_dba, events, words_lost_a_show_s, percentile;
    const node *at;
} stated_quiet;

typedef struct stated_dates {
    const char **start; /* [n_start] */
    int *weekday;       /* [n_weekday] */
    int n_start, n_weekday;
    double minutes;
    const char *from, *to;
    const node *at;
} stated_dates;

typedef struct stated_partner {
    const char *name, *layout;
    double hours, margin_min;
    const char *start;
    const node *at;
} stated_partner;

typedef struct stated_price {
    const char *name;
    double price, distance_m, row[2];
    const char **block; /* [n_block] */
    int n_block;
    gradin_rating rated;
    const node *at;
} stated_price;

typedef struct stated_wished {
    gradin_ask ask;
    double weight, nothing_at, full_at;
    int *form; /* [n_form] */
    int n_form;
    const node *at;
} stated_wished;

typedef struct stated_show {
    const char *name, *brief;
    stated_must must;
    gradin_rating sold_to;
    stated_quiet *quiet; /* NULL when not stated */
    stated_dates *dates; /* NULL when not stated */
    bool is_amplified;
    int voice, shades, crew;
    stated_partner *partner; /* [n_partner] */
    stated_price *price;     /* [n_price] */
    stated_wished *wished;   /* [n_wished] */
    int n_partner, n_price, n_wished;
    double confidence;
    const node *at;
} stated_show;

extern const schema_file show_schema;

#endif
