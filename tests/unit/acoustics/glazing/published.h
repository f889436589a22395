/* tests/unit/acoustics/glazing/published.h: published sound reduction of glazing, each build with
 * the mounting that its source stands for (reference/, provenance.md beside each table). */
#ifndef GRADIN_TEST_PUBLISHED_H
#define GRADIN_TEST_PUBLISHED_H

#include "unit/acoustics/glass.h"

enum { PUBLISHED_MOST = 80, PUBLISHED_N_OCTAVE = 6, PUBLISHED_FIRST_OCTAVE = 1 };

typedef enum published_source {
    SOURCE_EN_12758, /* sealed into a laboratory's opening, units with spacers */
    SOURCE_BIES,     /* heavy frames; doubles joined by their wall or, by another hand, separate */
    SOURCE_ROSSING,
    SOURCE_HOPKINS, /* 250, 500, 1000 Hz thirds of one pane */
    SOURCE_SEALED,  /* STC of sealed windows in separate frames */
    N_SOURCE
} published_source;

typedef enum published_group {
    GROUP_PANE,   /* one pane, laminated or not */
    GROUP_UNIT,   /* two panes on a spacer */
    GROUP_DOUBLE, /* two panes in frames */
    N_GROUP
} published_group;

typedef struct published {
    char name[64];
    published_source source;
    gradin_layer layer[7];
    gradin_buildup buildup;                                   /* of these layers */
    double r_db[PUBLISHED_N_OCTAVE], third_db[GRADIN_N_BAND]; /* NAN where not given */
    gradin_frames worded; /* frames as the source words them, which for some say less */
    double stc, rw;       /* NAN where not given */
} published;

extern const char *const published_source_name[N_SOURCE];

/* All cases into [PUBLISHED_MOST]; their count. The layers belong to the array: do not copy it. */
int published_read(published *all);
published_group published_group_of(const published *p);
/* Six octaves 125 to 4000 Hz by the energy mean of tau over thirds. */
void published_octaves_db(const double *r_db, double *octave_db);
/* STC of thirds. */
int published_stc(const double *r_db);
/* Predicted less published, at most GRADIN_N_BAND differences into d_db; their count. The only
 * difference of a sealed window is that of STC. */
int published_differences(const published *p, const double *r_db, double *d_db);

#endif
