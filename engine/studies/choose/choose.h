/* studies/choose/choose.h: the parts of a choice. */
#ifndef GRADIN_STUDIES_CHOOSE_H
#define GRADIN_STUDIES_CHOOSE_H

#include "gradin/acoustics/event.h"
#include "gradin/studies/choose.h"

/* Standard deviations at which the curves of gradin_asked end, and seats count as left open. */
#define CHOOSE_ENDS 3.0

/* asked.c: figures as they are known. */
gradin_asked choose_certain(double value);
gradin_asked choose_no_figure(void);
/* A figure at -3, 0 and 3 standard deviations, and where it lies between. */
gradin_asked choose_between(gradin_doubt doubt, double at_low, double value, double at_high);
/* At any shift, straight between points and level beyond the ends. */
double choose_at(const gradin_asked *figure, double shift);

/* house.c: what is sold of a layout, and what that comes to. */
typedef struct choose_house {
    int n_sold, n_wheelchair, n_clear, n_good;
    double distance_m, takings;
} choose_house;

choose_house choose_house_of(const gradin_show *show, const gradin_assessment *a,
                             const gradin_rating *rating, gradin_sale *sale);
/* Ratings of all seats were everything that samples and draws decide off by `shift` standard errors
 * for the better; NULL without memory. */
gradin_rating *choose_ratings(gradin_arena *arena, const gradin_assessment *a, double shift,
                              gradin_error *error);
/* Fills the figures of sight, what is held back, and sales. */
gradin_status choose_look(gradin_arena *arena, const gradin_show *show, gradin_candidate *c,
                          gradin_error *error);

/* quiet.c: events and lost words of the show's own performances; kept may be NULL. */
gradin_status choose_listen(gradin_arena *arena, const gradin_show *show,
                            const gradin_traffic *traffic, const char *room_cache,
                            gradin_kept_room *kept, gradin_candidate *c, gradin_error *error);
/* days.c: performances of the show in the traffic's days: in how many does an event at time_s lie,
 * and how many are there. */
typedef struct choose_days {
    int64_t first_s, last_s; /* days at 0:00 */
    const gradin_show *show;
    int start_s[GRADIN_MAX_SHOW_START], n_start, length_s;
    int n_performance;
} choose_days;

gradin_status choose_days_of(const gradin_show *show, const gradin_traffic *traffic,
                             choose_days *days, gradin_error *error);
int choose_performances_at(const choose_days *days, int64_t time_s);

/* partners.c: changeovers to and from each partner's layout. */
gradin_status choose_share(gradin_arena *arena, const gradin_show *show,
                           const gradin_model *partner, const gradin_choose_options *how,
                           gradin_candidate *c, gradin_error *error);

/* The longer way, between its proven least and its plan. */
gradin_asked choose_hours(const gradin_shared *shared);

/* musts.c: fills must, verdict and miss from the figures. */
void choose_musts(const gradin_show *show, gradin_candidate *c);
gradin_verdict choose_verdict(const gradin_asked *figure, double need, bool wants_more);
/* Part by which a need must give way to be kept by this figure: 0 none, 1 all of it. */
double choose_part(double need, double figure, bool wants_more);

/* worth.c: worth of each wish, score; the order of all candidates. */
double choose_worth(const gradin_wished *wished, double value);
double choose_score(const gradin_show *show, const double *worth);
void choose_worths(const gradin_show *show, gradin_candidate *c);
void choose_order(gradin_choice *choice);
/* Does it compete for the first place: has it the best verdict that there is? */
bool choose_competes(const gradin_choice *choice, int candidate);
/* share[n_candidate] += 1, parted evenly among those of highest score that are in; false when none
 * is. */
bool choose_give_first(const double *score, const bool *is_in, int n, double *share);

/* draws.c: how often each comes first, and who is told from whom. */
void choose_draw(gradin_choice *choice);
/* weights.c: how far the weights may go. */
void choose_weights(gradin_choice *choice);

/* random.c: evenly in (0, 1) and normal, functions of draw, layout and what they are for. */
typedef enum choose_stream {
    CHOOSE_STREAM_SIGHT,
    CHOOSE_STREAM_ROOM,
    CHOOSE_STREAM_HOURS,
    CHOOSE_STREAM_SOURCE,
    CHOOSE_STREAM_ENVELOPE,
    CHOOSE_STREAM_WEIGHT
} choose_stream;
double choose_even(int draw, int item, choose_stream stream);
double choose_normal(int draw, int item, choose_stream stream);

#endif
