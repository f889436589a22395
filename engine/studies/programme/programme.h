/* studies/programme/programme.h: the parts of a programme's plan. */
#ifndef GRADIN_STUDIES_PROGRAMME_H
#define GRADIN_STUDIES_PROGRAMME_H

#include "gradin/studies/programme.h"
#include "studies/changeover/least.h"

/* What a choice costs: clashes first, then those where no way exists, seconds missed, cost,
 * changeovers. */
typedef struct programme_price {
    int n_clash, n_no_way;
    double short_s, cost;
    int n_changeover;
} programme_price;

/* Of a staging that is planned. */
programme_price programme_price_of(const gradin_staging *staging);
programme_price programme_sum(programme_price a, programme_price b);
/* Below 0 when a is the better one. */
int programme_compare(const programme_price *a, const programme_price *b);

enum { PROGRAMME_QUARTERS = 96 };

/* A plan begun at a time of day: its time by the clock, -1 when shifts leave it none, and its
 * person-seconds by night. */
typedef struct programme_begun {
    bool is_known;
    int total_s;
    double night_s;
} programme_begun;

typedef struct programme_clock {
    const gradin_changeover *plan;
    programme_begun quarter[PROGRAMME_QUARTERS]; /* by quarters of the day */
} programme_clock;

/* night.c: person-seconds of a changeover's work that lie in the night when it begins at begin_s.
 */
double programme_night_s(const gradin_programme *programme, const gradin_changeover *c,
                         int64_t begin_s);
/* Fills begin_s, done_s, hours, cost and short_s of a staging whose window is set, by the cheapest
 * beginning at which there is time: at once, or at a quarter of an hour; no_way when there is none.
 */
gradin_status programme_place(const gradin_programme *programme, programme_clock *clock,
                              gradin_staging *staging);

/* needs.c: the layouts of a show that have what it needs, or all allowed ones when none has:
 * choice[] of them, *n. Fills `needs` and `most` of the staging. */
void programme_choices(const gradin_programme *programme, const gradin_model *model, int show,
                       int choice[GRADIN_MAX_PROGRAMME_LAYOUT], int *n, gradin_staging *staging);

/* path.c: the best way through all shows. */

/* Every way into a show: price and staging of [n_layout of before][n_layout]; before the first show
 * only row first_layout counts, or none. */
typedef struct programme_step {
    int choice[GRADIN_MAX_PROGRAMME_LAYOUT], n_choice;
    programme_price own[GRADIN_MAX_PROGRAMME_LAYOUT]; /* of the show in choice[k] */
    programme_price *way;                             /* [n_layout][n_layout] */
    programme_price *day_later;                       /* the same with a window a day longer */
    gradin_staging *staging;                          /* [n_layout][n_layout] */
} programme_step;

/* The best layouts of all shows and their price; the free day that saves most, and the layouts
 * with it: the same without such a day. */
typedef struct programme_run {
    int *layout, *day_layout; /* [n_step] */
    programme_price price;
    gradin_free_day day;
} programme_run;

/* The arrays of run are the caller's. */
gradin_status programme_path(gradin_arena *arena, const programme_step *step, int n_step,
                             int n_layout, int first_layout, programme_run *run);

/* ways.c: changeovers are planned when the best run, or the one with a free day, goes through them.
 */

/* How much is known of the changeover from one layout to another: that it is one, what its moves
 * take at least, its plan. */
typedef enum programme_known {
    PROGRAMME_NOTHING,
    PROGRAMME_LEAST,
    PROGRAMME_PLANNED
} programme_known;

typedef struct programme_way {
    programme_known known;
    bool is_asked, is_changed;
    const char *no_way; /* why there is none; NULL */
    changeover_least least;
    programme_clock clock; /* of the plan */
} programme_way;

typedef struct programme_ways {
    gradin_arena *arena;
    const gradin_programme *p;
    const gradin_model *model;     /* [n_layout] */
    gradin_changeover *changeover; /* [n_layout][n_layout] */
    programme_way *way;            /* [n_layout][n_layout] */
    programme_step *step;          /* [n_booking] */
    int n_node;
    gradin_error *error;
} programme_ways;

/* The layout before a show of a run. */
static inline int programme_from(const gradin_programme *p, const int *layout, int show) {
    return show > 0 ? layout[show - 1] : p->first_layout >= 0 ? p->first_layout : layout[0];
}
/* Prices every way into a show by what is known; is_first: also what has not changed. */
gradin_status programme_price_ways(programme_ways *w, int show, bool is_first);
/* Layouts of all shows at the least price, and the free day. No price that is not known is below
 * its bound, so a run whose ways are all planned is the best of all. */
gradin_status programme_find_run(programme_ways *w, programme_run *run);

#endif
