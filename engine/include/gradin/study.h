/* gradin/study.h: which keys of a venue, a layout, its brief, its overflight or a season of traffic
 * are varied, by which values, and what is asked of each point.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it; any number of threads
 * may read a study that nobody changes. */
#ifndef GRADIN_STUDY_H
#define GRADIN_STUDY_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    GRADIN_MAX_VARIED = 16,      /* keys that vary on their own */
    GRADIN_MAX_VARIED_PATH = 40, /* places of one key */
    GRADIN_MAX_STUDY_VALUE = 1000,
    GRADIN_MAX_STUDY_POINT = 1000000,
    GRADIN_MAX_STUDY_BOUND = 16,
    GRADIN_MAX_STUDY_AIM = 4,
    GRADIN_MAX_SEARCH = 20000, /* points that a search tries */
    GRADIN_VALUE_CHARS = 80
};

/* Kinds of file in which a key may stand. */
typedef enum gradin_varied_file {
    GRADIN_VARIED_VENUE,
    GRADIN_VARIED_LAYOUT,
    GRADIN_VARIED_TRAFFIC,
    GRADIN_VARIED_BRIEF,
    GRADIN_VARIED_OVERFLIGHT,
    GRADIN_N_VARIED_FILE
} gradin_varied_file;

GRADIN_API const char *gradin_varied_file_name(gradin_varied_file file); /* "venue" */

/* A key that takes one value after the other, at one place or at several alike. */
typedef struct gradin_varied {
    const char *name; /* unique in the study */
    gradin_varied_file file;
    const char *const *path; /* [n_path] such as "facade.glazing[west glass].buildup" */
    int n_path;
    const char *const
        *value; /* [n_value] as they stand in a file; n_value 0: from `from` to `to` */
    int n_value;
    double from, to;
    const gradin_place *at; /* in the study's file, or NULL */
} gradin_varied;

/* What a point may be asked for. */
typedef enum gradin_study_figure {
    GRADIN_STUDY_SEATS,
    GRADIN_STUDY_WHEELCHAIRS,
    GRADIN_STUDY_CLEAR,
    GRADIN_STUDY_GOOD,
    GRADIN_STUDY_FAIR,
    GRADIN_STUDY_POOR,
    GRADIN_STUDY_CLEAR_SHARE,
    GRADIN_STUDY_GOOD_SHARE,
    GRADIN_STUDY_POOR_SHARE,
    GRADIN_STUDY_VISIBLE_P10,
    GRADIN_STUDY_VISIBLE_MEDIAN,
    GRADIN_STUDY_C_P10,
    GRADIN_STUDY_C_MEDIAN,
    GRADIN_STUDY_C_P90,
    GRADIN_STUDY_DISTANCE_P90,
    GRADIN_STUDY_DISTANCE_MOST,
    GRADIN_STUDY_LAMAX_MEDIAN,
    GRADIN_STUDY_LAMAX_P90,
    GRADIN_STUDY_LAMAX_MOST,
    GRADIN_STUDY_NC_P90,
    GRADIN_STUDY_EVENTS,
    GRADIN_STUDY_EVENTS_MEAN,
    GRADIN_STUDY_WORDS_LOST,
    GRADIN_STUDY_CHANGEOVER,
    GRADIN_STUDY_CREW_HOURS,
    GRADIN_STUDY_GLASS_KG_M2,
    GRADIN_STUDY_GLASS_T,
    GRADIN_N_STUDY_FIGURE
} gradin_study_figure;

/* Work whose results a point is made of. A key that a stage does not depend on leaves them as they
 * are. */
typedef enum gradin_stage {
    GRADIN_STAGE_RAYS,       /* what each seat sees; no figure of its own */
    GRADIN_STAGE_SIGHT,      /* and how good that is */
    GRADIN_STAGE_ROOM,       /* how sound spreads in the room; no figure of its own */
    GRADIN_STAGE_PASS,       /* the layout's overflight at the seats */
    GRADIN_STAGE_SEASON,     /* the traffic at the seats */
    GRADIN_STAGE_CHANGEOVER, /* to and from the partner */
    GRADIN_STAGE_GLASS,      /* what the panes weigh */
    GRADIN_N_STAGE
} gradin_stage;

typedef struct gradin_study_figure_form {
    const char *word, *unit, *meaning; /* unit "" without */
    gradin_stage stage;
    int decimals;
    bool is_more_better; /* than less; what a bare aim would want */
} gradin_study_figure_form;

/* What the figure is; NULL for one that is not there. */
GRADIN_API const gradin_study_figure_form *gradin_study_figure_of(gradin_study_figure figure);

/* A figure is to be at least, at most, or both. */
typedef struct gradin_study_bound {
    gradin_study_figure figure;
    double least, most; /* -INFINITY, INFINITY where not asked */
} gradin_study_bound;

typedef struct gradin_study_aim {
    gradin_study_figure figure;
    bool wants_most;
} gradin_study_aim;

/* How keys are searched in place of trying all their values. */
typedef struct gradin_search {
    int n_most; /* points tried; 0: the study states no search */
    int seed;   /* of where it begins */
} gradin_search;

/* Required: name, layout_path, varied, figure. Points are the grid of all values, the last key
 * quickest; or, with n_design, that many points of Sobol's sequence; or, with `chosen`, those that
 * a search picked. */
typedef struct gradin_study {
    const char *name, *file;
    const char *layout_path;  /* as seen from here, like all of them */
    const char *partner_path; /* layout that changeovers go to and come from, or NULL */
    const char *traffic_path, *brief_path; /* NULL: none, the layout's own */
    double limit_dba;                      /* of an event; NAN: the traffic's or the brief's */
    double percentile;                     /* of the seats, of events and lost words */
    gradin_varied *varied;                 /* [n_varied] */
    int n_varied, n_design;
    const char **chosen; /* [n_chosen][n_varied] values as they stand in a file, or NULL */
    int n_chosen;
    gradin_search search;
    const gradin_study_figure *figure; /* [n_figure] as columns, each once */
    int n_figure;
    const gradin_study_bound *bound; /* [n_bound] each of a figure that is a column */
    const gradin_study_aim *aim;     /* [n_aim] the first decides, then the next */
    int n_bound, n_aim;
    int picture[2], picture_figure; /* keys across and up, figure drawn; -1: no picture */
    char digest[33];                /* hex XXH3-128 of the file */
} gradin_study;

/* How many points; 0 for a study that has none or more than GRADIN_MAX_STUDY_POINT. */
GRADIN_API int gradin_study_points(const gradin_study *study);
/* Which of its values a key has at a point, counted from 0; of a range without values the point
 * itself. -1 for what is not there. */
GRADIN_API int gradin_study_index(const gradin_study *study, int point, int key);
/* The value as it stands in a file, into text[GRADIN_VALUE_CHARS]. False for what is not there. */
GRADIN_API bool gradin_study_value(const gradin_study *study, int point, int key, char *text);
/* Coordinate of Sobol's sequence in [0, 1), dimension 0..GRADIN_MAX_VARIED - 1; NAN beyond. */
GRADIN_API double gradin_sobol(int point, int dimension);

#ifdef __cplusplus
}
#endif

#endif
