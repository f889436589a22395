/* files/stated/study.h: a study as its file states it. */
#ifndef GRADIN_FILES_STATED_STUDY_H
#define GRADIN_FILES_STATED_STUDY_H

#include "files/schema/schema.h"
#include "gradin/study.h"

typedef struct stated_varied {
    const char *name, *path[GRADIN_N_VARIED_FILE];
    const char **also;  /* [n_also] */
    const char **value; /* [n_value] */
    int n_also, n_value;
    double from, to, step;
    const node *at;
} stated_varied;

typedef struct stated_bound {
    gradin_study_figure figure;
    double least, most;
    const node *at;
} stated_bound;

typedef struct stated_aim {
    gradin_study_figure figure;
    int best;
    const node *at;
} stated_aim;

typedef struct stated_response {
    const char *across, *up;
    gradin_study_figure figure;
    const node *at;
} stated_response;

typedef struct stated_search {
    int n_most, seed;
    const node *at;
} stated_search;

typedef struct stated_study {
    const char *name, *layout, *partner, *traffic, *brief;
    double limit_dba, percentile;
    stated_varied *varied; /* [n_varied] */
    int *figure;           /* [n_figure] */
    stated_bound *bound;   /* [n_bound] */
    stated_aim *aim;       /* [n_aim] */
    int n_varied, n_figure, n_bound, n_aim, n_design;
    stated_search *search;    /* NULL when not stated */
    stated_response *picture; /* NULL when not stated */
    const node *at;
} stated_study;

extern const schema_file study_schema;

#endif
