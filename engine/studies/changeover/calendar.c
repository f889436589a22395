/* When people work: shifts and rests as the venue states them, from the start of a changeover on.
 * A plan is made in working time, the seconds in which its people are at work. Here is which
 * second of the clock each of them is. All people stop together, and what they operate stops with
 * them; no plan claims an hour in which nobody works. Times are local; a change of the clocks in
 * spring or autumn is not in it. */
#include "studies/changeover/changeover.h"

#include <string.h>

enum { DAY_S = 86400, MOST_STOPS = 4000 };
static const double OPEN = 0.995;

/* While the calendar is made. */
typedef struct cursor {
    changeover *c;
    const gradin_work *w;
    int64_t now_s;                    /* of the clock, since 1970 */
    int64_t work_s;                   /* worked until then */
    int64_t since_s[GRADIN_MAX_REST]; /* worked since the last stop at least as long as that rest */
} cursor;

static int64_t time_of_day(int64_t at_s) {
    return ((at_s % DAY_S) + DAY_S) % DAY_S;
}

/* Seconds from now until that time of day, 0 when it is that. */
static int64_t until(int64_t now_s, int of_day_s) {
    return (of_day_s - time_of_day(now_s) + DAY_S) % DAY_S;
}

/* How long this shift goes on from now; 0 when it is none of its hours. */
static int64_t left_of(const gradin_shift *s, int64_t now_s) {
    int64_t length_s = until(s->from_s, s->to_s), gone_s = time_of_day(now_s - s->from_s);
    if (length_s == 0) length_s = DAY_S;
    return gone_s < length_s ? length_s - gone_s : 0;
}

/* Seconds until nobody's shift goes on, INT64_MAX when no shift is stated. */
static int64_t left_of_shifts(const cursor *k) {
    int64_t most_s = k->w->n_shift > 0 ? 0 : INT64_MAX;
    for (int i = 0; i < k->w->n_shift; i++) {
        int64_t left_s = left_of(&k->w->shift[i], k->now_s);
        if (left_s > most_s) most_s = left_s;
    }
    return most_s;
}

static int64_t next_shift(const cursor *k) {
    int64_t least_s = DAY_S;
    for (int i = 0; i < k->w->n_shift; i++) {
        int64_t wait_s = until(k->now_s, k->w->shift[i].from_s);
        if (wait_s < least_s) least_s = wait_s;
    }
    return least_s;
}

static int64_t next_rest(const cursor *k, int i) {
    const gradin_rest *rest = &k->w->rest[i];
    if (rest->after_s <= 0) return until(k->now_s, rest->at_s);
    return rest->after_s > k->since_s[i] ? rest->after_s - k->since_s[i] : 0;
}

/* The rest that comes first; of two at a time the longer one. -1 without any. */
static int first_rest(const cursor *k, int64_t *wait_s) {
    int best = -1;
    for (int i = 0; i < k->w->n_rest; i++) {
        int64_t own_s = next_rest(k, i);
        if (best >= 0 && own_s > *wait_s) continue;
        if (best >= 0 && own_s == *wait_s && k->w->rest[i].length_s <= k->w->rest[best].length_s)
            continue;
        best = i;
        *wait_s = own_s;
    }
    return best;
}

static void work(cursor *k, int64_t seconds) {
    k->now_s += seconds;
    k->work_s += seconds;
    for (int i = 0; i < k->w->n_rest; i++) k->since_s[i] += seconds;
}

static bool stop(cursor *k, int64_t seconds, const char *name, bool is_rest, bool is_paid) {
    changeover *c = k->c;
    int64_t from_s = k->now_s - c->out->start_s;
    if (c->n_stop == MOST_STOPS || from_s + seconds > INT32_MAX / 2 || k->work_s > INT32_MAX / 2) {
        changeover_refuse(c, c->from->venue_file, "machines.crew",
                          "shifts and rests leave too little time for the changeover");
        return false;
    }
    c->stop[c->n_stop] =
        (gradin_stop){(int)from_s, (int)(from_s + seconds), name, is_rest, is_paid};
    c->stop_work_s[c->n_stop++] = (int)k->work_s;
    k->now_s += seconds;
    for (int i = 0; i < k->w->n_rest; i++)
        if (k->w->rest[i].length_s <= seconds) k->since_s[i] = 0;
    return true;
}

/* One stretch of work and the stop behind it. */
static bool go_on(cursor *k) {
    int64_t left_s = left_of_shifts(k), wait_s = INT64_MAX;
    if (left_s == 0) return stop(k, next_shift(k), "off shift", false, false);
    int rest = first_rest(k, &wait_s);
    if (wait_s < left_s) {
        work(k, wait_s);
        return stop(k, k->w->rest[rest].length_s, k->w->rest[rest].name, true,
                    k->w->rest[rest].is_paid);
    }
    work(k, left_s);
    /* Another shift takes over rested. */
    if (left_of_shifts(k) > 0)
        for (int i = 0; i < k->w->n_rest; i++) k->since_s[i] = 0;
    return true;
}

static void find_longest(changeover *c) {
    c->longest_s = 0;
    for (int i = 0; i < c->n_stop; i++) {
        int length_s = c->stop_work_s[i] - (i > 0 ? c->stop_work_s[i - 1] : 0);
        if (length_s > c->longest_s) c->longest_s = length_s;
    }
}

bool changeover_calendar(changeover *c, int64_t need_s) {
    cursor k = {.c = c, .w = &c->a->work, .now_s = c->out->start_s};
    c->n_stop = 0;
    c->known_work_s = need_s;
    if (!c->out->has_start || (k.w->n_shift == 0 && k.w->n_rest == 0)) return true;
    if (!c->stop) {
        c->stop = gradin_arena_alloc(c->arena, MOST_STOPS, sizeof *c->stop);
        c->stop_work_s = gradin_arena_alloc(c->arena, MOST_STOPS, sizeof *c->stop_work_s);
    }
    if (!c->stop || !c->stop_work_s) return changeover_no_memory(c);
    while (k.work_s <= need_s)
        if (!go_on(&k)) return false;
    c->known_work_s = k.work_s;
    find_longest(c);
    return true;
}

/* Stops that are over when work has got there; is_start: those right there, too. */
static int count_stops(const changeover *c, int work_s, bool is_start) {
    int low = 0, high = c->n_stop;
    while (low < high) {
        int middle = (low + high) / 2;
        bool is_over =
            is_start ? c->stop_work_s[middle] <= work_s : c->stop_work_s[middle] < work_s;
        if (is_over)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static int clock_at(const changeover *c, int work_s, bool is_start) {
    int n = count_stops(c, work_s, is_start);
    return n == 0 ? work_s : c->stop[n - 1].to_s + work_s - c->stop_work_s[n - 1];
}

int changeover_clock_start(const changeover *c, int work_s) {
    return clock_at(c, work_s, true);
}

int changeover_clock_end(const changeover *c, int work_s) {
    return clock_at(c, work_s, false);
}

int changeover_worked_at(const changeover *c, int clock_s) {
    int work_s = clock_s;
    for (int i = 0; i < c->n_stop && c->stop[i].from_s <= clock_s; i++)
        work_s = clock_s < c->stop[i].to_s ? c->stop_work_s[i]
                                           : c->stop_work_s[i] + clock_s - c->stop[i].to_s;
    return work_s;
}

/* The first stop inside the stretch that starts there, -1 without. */
static int stop_inside(const changeover *c, int from_s, int64_t until_s) {
    int i = count_stops(c, from_s, true);
    return i < c->n_stop && c->stop_work_s[i] < until_s ? i : -1;
}

int changeover_piece(const changeover *c, int move, int duration_s, int piece_s) {
    if (c->move[move].kind != GRADIN_MOVE_STEP) return piece_s;
    return duration_s <= c->longest_s ? duration_s : 0;
}

/* A machine goes from stop to stop of its own (pieces); between them it is not left alone. Work of
 * people can be left and taken up, but for steps: nobody signs for what was looked at a shift ago.
 */
int changeover_finish(const changeover *c, int *start_s, int duration_s, int piece_s) {
    int64_t end_s = *start_s;
    if (piece_s <= 0 || c->n_stop == 0) return *start_s + duration_s;
    for (int left_s = duration_s; left_s > 0; left_s -= piece_s) {
        int part_s = left_s < piece_s ? left_s : piece_s;
        for (int at; (at = stop_inside(c, (int)end_s, end_s + part_s)) >= 0;)
            end_s = c->stop_work_s[at];
        if (left_s == duration_s) *start_s = (int)end_s;
        end_s += part_s;
    }
    return (int)end_s;
}

/* The moves of a machine of its own, the first and the second; -1. */
static void find_legs(const changeover *c, const char *name, int leg[2]) {
    leg[0] = leg[1] = -1;
    for (int i = 0; i < c->n_move; i++) {
        if (c->move[i].kind != GRADIN_MOVE_MACHINE || strcmp(c->move[i].name, name) != 0) continue;
        leg[leg[0] >= 0] = i;
    }
    if (leg[1] < 0 || c->move[leg[0]].start_s <= c->move[leg[1]].start_s) return;
    int first = leg[1];
    leg[1] = leg[0];
    leg[0] = first;
}

/* Open in neither layout, and opened in between for scenery. Nobody is there to watch it. */
static bool is_left_open(const changeover *c, int machine, const gradin_stop *s) {
    int leg[2];
    if (c->a->machine[machine].kind != GRADIN_MACHINE_DOOR ||
        c->a->machine[machine].setting.position >= OPEN ||
        c->b->machine[machine].setting.position >= OPEN)
        return false;
    find_legs(c, c->a->machine[machine].name, leg);
    return leg[1] >= 0 && c->move[leg[0]].end_s <= s->from_s && c->move[leg[1]].start_s >= s->to_s;
}

bool changeover_tell_open_doors(changeover *c) {
    for (int i = 0; i < c->out->n_stop; i++)
        for (int k = 0; k < c->a->n_machine && !c->stop[i].is_rest; k++) {
            if (!is_left_open(c, k, &c->stop[i])) continue;
            c->stop[i].name =
                changeover_print(c, "%s, %s left open", c->stop[i].name, c->a->machine[k].name);
            if (!c->stop[i].name) return changeover_no_memory(c);
        }
    return true;
}
