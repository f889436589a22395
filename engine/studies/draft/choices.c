/* The small space of choices, and how many places each would have: sections left free at the banks'
 * ends, what lies before each bank (nothing, a free rank, free first treads), which banks take
 * wheelchair places on a level first rank, most ranks per bank, most groups of towers. A count is
 * never less than what the finished layout has. */
#include "studies/draft/search.h"

#include <string.h>

enum {
    MOST_INSET = 2,
    MOST_INSET_ON_FLOOR = 40,
    MOST_REACH = 3,
    ALL_BANKS = DRAFT_FRONT | DRAFT_BACK | DRAFT_SIDES
};

/* ADA Standards for Accessible Design 2010, table 221.2.1.1. */
int gradin_wheelchair_places(int n_seat) {
    static const int upto[][2] = {{3, 0}, {25, 1}, {50, 2}, {150, 4}, {300, 5}, {500, 6}};
    for (int i = 0; i < 6; i++)
        if (n_seat <= upto[i][0]) return upto[i][1];
    if (n_seat <= 5000) return 6 + (n_seat - 500 + 149) / 150;
    return 36 + (n_seat - 5000 + 199) / 200;
}

/* By the venue's own table; where it states none, by the published one. */
int draft_places_needed(const draft_job *job, int n_seat) {
    int by_own = gradin_wheelchairs_needed(&job->hall->rules, n_seat);
    return by_own >= 0 ? by_own : gradin_wheelchair_places(n_seat);
}

static void count(const draft_job *job, draft_scheme *scheme) {
    int n = scheme->floor.n_seat;
    for (int i = 0; i < scheme->n_bank; i++) n += scheme->bank[i].n_seat;
    for (int i = 0; i < job->hall->n_tower; i++) n += scheme->tower[i].n_seat;
    scheme->n_wheelchair = job->w->n_wheelchair;
    if (scheme->n_wheelchair < 0) {
        scheme->n_wheelchair = draft_places_needed(job, n);
        while (scheme->n_wheelchair < draft_places_needed(job, n + 2 * scheme->n_wheelchair))
            scheme->n_wheelchair++;
    }
    scheme->n_seat = n + 2 * scheme->n_wheelchair;
}

/* Machines, banks or chairs of a choice; false when it seats nobody. */
bool draft_make_scheme(const draft_job *job, const draft_choice *choice, draft_scheme *scheme) {
    draft_tower *tower = scheme->tower;
    gradin_setting *setting = scheme->setting;
    memset(scheme, 0, sizeof *scheme);
    scheme->choice = *choice;
    scheme->tower = tower;
    scheme->setting = setting;
    bool is_flat = job->w->form == GRADIN_FORM_FLAT_FLOOR;
    if (!is_flat && !draft_make_banks(job, scheme)) return false;
    draft_set_machines(job, scheme);
    if (is_flat && !draft_set_floor(job, scheme)) return false;
    count(job, scheme);
    return true;
}

static int most_depth(const draft_job *job) {
    gradin_box2 b = job->floor_box;
    if (job->w->form != GRADIN_FORM_FLAT_FLOOR)
        return job->n_deep > job->n_across ? job->n_deep : job->n_across;
    return (int)((job->quarter % 2 == 0 ? b.y_max_m - b.y_min_m : b.x_max_m - b.x_min_m) /
                 job->w->row_depth_m);
}

/* Does one more rank per bank still change anything? */
static bool is_used_up(const draft_job *job, const draft_scheme *scheme) {
    int deepest = 0;
    for (int i = 0; i < scheme->n_bank; i++) {
        int n = scheme->bank[i].n_rank - scheme->bank[i].is_front;
        deepest = n > deepest ? n : deepest;
    }
    return job->w->form != GRADIN_FORM_FLAT_FLOOR && deepest < scheme->choice.depth;
}

static bool add_choice(draft_job *job, choices *all, const draft_scheme *scheme) {
    all->n_weighed++;
    if (scheme->n_seat > job->most_seats) {
        all->n_over_exit++;
        return true;
    }
    if (gradin_arena_grow(job->arena, (void **)&all->item, all->n, &all->capacity,
                          sizeof *all->item) != GRADIN_OK)
        return false;
    all->item[all->n] =
        (counted){.choice = scheme->choice,
                  .n_seat = scheme->n_seat,

                  .order = all->n,
                  .is_enough = job->w->n_seat > 0 && scheme->n_seat >= job->w->n_seat};
    all->n++;
    return true;
}

/* Tries towers, from none to as many as still add seats. */
static bool weigh_towers(draft_job *job, choices *all, draft_choice choice, draft_scheme *scheme,
                         bool *is_over) {
    int before = -1;
    for (choice.towers = 0; choice.towers <= job->hall->n_tower; choice.towers++) {
        if (!draft_make_scheme(job, &choice, scheme)) {
            *is_over = false;
            return draft_note_lack(job, scheme);
        }
        *is_over = is_used_up(job, scheme);
        if (*is_over || scheme->n_seat == before) return true;
        before = scheme->n_seat;
        if (!add_choice(job, all, scheme)) return false;
    }
    return true;
}

static bool weigh_depths(draft_job *job, choices *all, draft_choice choice, draft_scheme *scheme) {
    bool is_over = false;
    for (choice.depth = 1; choice.depth <= most_depth(job) && !is_over; choice.depth++)
        if (!weigh_towers(job, all, choice, scheme, &is_over)) return false;
    return true;
}

/* The farther the first row, the less the rows rise. */
static bool weigh_reaches(draft_job *job, choices *all, draft_choice choice, draft_scheme *scheme) {
    int most =
        job->main < 0 && choice.gap && job->w->form != GRADIN_FORM_FLAT_FLOOR ? MOST_REACH : 1;
    for (choice.reach = 1; choice.reach <= most; choice.reach++)
        if (!weigh_depths(job, all, choice, scheme)) return false;
    return true;
}

/* Banks before and behind the stage are treated alike. */
static bool is_even_mask(int has, int mask) {
    const int both = DRAFT_FRONT | DRAFT_BACK;
    return !(has & DRAFT_BACK) || (mask & both) == 0 || (mask & both) == both;
}

/* Loose chairs have no treads. Banks that face each other are alike when that is wished; those
 * beside the stage of a thrust go without the one before it. */
static bool is_of_form(const draft_job *job, const draft_choice *choice) {
    static const int banks[] = {[GRADIN_FORM_END_STAGE] = DRAFT_FRONT,
                                [GRADIN_FORM_FLAT_FLOOR] = DRAFT_FRONT,
                                [GRADIN_FORM_THRUST] = DRAFT_FRONT | DRAFT_SIDES,
                                [GRADIN_FORM_TRAVERSE] = DRAFT_FRONT | DRAFT_BACK,
                                [GRADIN_FORM_ROUND] = DRAFT_FRONT | DRAFT_BACK | DRAFT_SIDES};
    int has = banks[job->w->form], any = choice->front | choice->gap | choice->walk;
    if ((any & ~has) || (choice->front && job->w->n_wheelchair == 0)) return false;
    if (choice->walk & (choice->front | choice->gap)) return false;
    if (choice->walk && (job->w->form == GRADIN_FORM_FLAT_FLOOR || job->main < 0)) return false;
    if (job->w->form == GRADIN_FORM_FLAT_FLOOR && choice->gap && !choice->front) return false;
    bool is_even = is_even_mask(has, choice->front) && is_even_mask(has, choice->gap) &&
                   is_even_mask(has, choice->walk);
    return is_even || !job->w->is_symmetric;
}

/* On the floor rows may have any length, from wall to wall down to a few seats. */
static int most_inset(const draft_job *job) {
    if (job->w->form == GRADIN_FORM_FLAT_FLOOR) return MOST_INSET_ON_FLOOR;
    return job->main < 0 ? job->n_across / 2 : MOST_INSET;
}

bool draft_weigh_choices(draft_job *job, choices *all, draft_scheme *scheme) {
    draft_choice choice = {0};
    for (choice.inset = 0; choice.inset <= most_inset(job); choice.inset++)
        for (choice.gap = 0; choice.gap <= ALL_BANKS; choice.gap++)
            for (choice.walk = 0; choice.walk <= ALL_BANKS; choice.walk++)
                for (choice.front = 0; choice.front <= ALL_BANKS; choice.front++)
                    if (is_of_form(job, &choice) && !weigh_reaches(job, all, choice, scheme))
                        return false;
    return true;
}
