/* studies/changeover/changeover.h: a changeover while it is being put together. */
#ifndef GRADIN_STUDIES_CHANGEOVER_H
#define GRADIN_STUDIES_CHANGEOVER_H

#include "gradin/studies/changeover.h"
#include "studies/schedule/schedule.h"

/* A machine's way through its settings: from, perhaps one stop on the way, to. */
typedef struct chain {
    gradin_setting stop[3]; /* [n_stop] */
    int n_stop;             /* 1 when it stays */
    int move[2];            /* [n_stop - 1] moves between the stops */
} chain;

/* Scenery that goes out, comes in or stays, and what that needs. */
typedef struct scenery_job {
    const gradin_scenery *s;
    bool is_in, is_kept;
    bool rides;                   /* when kept: by both layouts */
    double stands_m, level_m;     /* height of its area in its layout; and while it is moved */
    gradin_interlock floor, door; /* holders that stand so meanwhile, of no mover */
    int move;                     /* -1 when it stays */
} scenery_job;

/* What a move is made of, beside what the report says of it. */
typedef struct move_detail {
    const int *machine;        /* [n_machine] of a machine move; NULL otherwise */
    int n_machine, leg;        /* leg: which step of their chains */
    const gradin_model *model; /* of seats set or struck */
    const int *seat;           /* [n_seat] indices into model->seats */
    int n_seat;
    const bool *section;        /* [n_section] under those seats, or at those rails */
    const gradin_vec3 *point_m; /* [n_point] where people work on seats or rails */
    int n_point;
    int together; /* machines of one grid that move at a time; 0: not of a grid */
    int n_trip;   /* of the store lift */
    int piece_s;  /* a machine's, that nobody leaves alone meanwhile; 0: work of people */
    const gradin_step *step;    /* NULL: none */
    const scenery_job *scenery; /* NULL: none */
    int n_stand;                /* of scenery: points that it stands on; the others are its way */
} move_detail;

/* What moves share: people, watts, then the machines of each grid that may move at once. */
enum { LIMIT_CREW, LIMIT_WATTS, LIMIT_GRID };

/* One person goes from a move, or a trip for it, to the next. */
typedef struct hand_over {
    int from_move, from_trip, to_move, to_trip; /* trip -1: the move itself */
} hand_over;

typedef struct changeover {
    gradin_arena *arena;
    gradin_error *error;
    const gradin_model *from, *to;
    const gradin_machinery *a, *b; /* of from and to */
    int n_section, n_tower;        /* sections and towers come first among the bodies */
    chain *chain;                  /* [n_machine] */
    gradin_move *move;             /* [GRADIN_MAX_MOVE] */
    move_detail *detail;           /* [GRADIN_MAX_MOVE] */
    int n_move;
    hand_over *hand; /* [n_hand] as gangs.c names the people */
    int n_hand;
    scenery_job *job; /* [n_job] */
    int n_job;
    int n_limit;          /* LIMIT_GRID and a limit for each grid */
    int trip_s;           /* of the store lift; 0 without one */
    bool *before, *apart; /* [n_move][n_move] once the moves are known */
    const char **rule;    /* [n_move][n_move] why, for both */
    int first_step;       /* moves from here on are steps */
    gradin_stop *stop;    /* [n_stop] NULL without */
    int *stop_work_s;     /* [n_stop] worked until then */
    int n_stop;
    int64_t known_work_s; /* until when the stops are known */
    int longest_s;        /* work between two of them at most */
    int now_s;            /* worked, when the rest is planned again; 0 before */
    int n_called;         /* people who do anything */
    gradin_changeover *out;
} changeover;

/* moves.c: adds one move; -1 when there are too many or no memory (the error is told). */
int changeover_add(changeover *c, gradin_move move, move_detail what);
bool changeover_no_memory(changeover *c);  /* tells it; false */
bool changeover_no_stretch(changeover *c); /* that no stretch of work is long enough; false */
/* Tells what stands in the way, at the file that can mend it (the venue's, or that of the layout to
 * be reached) and its key, both of which may be NULL. GRADIN_BAD_INPUT. */
gradin_status changeover_refuse(changeover *c, const char *file, const char *key,
                                const char *format, ...) __attribute__((format(printf, 4, 5)));
/* changeover.c: the family of the last diagnostic. */
gradin_status changeover_status_of(const gradin_error *error);
char *changeover_print(changeover *c, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Does it move a seating tower? */
bool changeover_is_tower(const gradin_machine *machine);
/* Lift section under a point, or -1; does it move? */
int changeover_section_under(const changeover *c, gradin_vec3 at_m);
bool changeover_is_on_moving_lift(const changeover *c, gradin_vec3 at_m);
void changeover_put_before(changeover *c, int first, int then, const char *rule);
void changeover_put_apart(changeover *c, int i, int k, const char *rule);
static inline bool changeover_is_before(const changeover *c, int i, int k) {
    return c->before[i * c->n_move + k];
}

/* guards.c: do these rails keep people from falling who work on these seats? Do rails take each
 * other's place? */
bool changeover_guards(const changeover *c, const move_detail *rails, const move_detail *seats);
bool changeover_rails_meet(const move_detail *a, const move_detail *b);

/* scenery.c: what goes out, comes in and stays, before the chains are known; then its moves. */
bool changeover_scenery_jobs(changeover *c);
bool changeover_scenery(changeover *c);
void changeover_count_stands(changeover *c); /* what neither seats nor scenery build */
/* Do two areas share more than their sides? An area without corners meets none. */
bool changeover_areas_meet(gradin_polygon a, gradin_polygon b);
bool changeover_is_over(const changeover *c, int section, gradin_polygon area);
/* scenery_order.c; false after a diagnostic. */
bool changeover_order_scenery(changeover *c);
/* Would something that sweeps through there meet scenery that stays? */
bool changeover_is_kept_at(const changeover *c, const gradin_polygon *swept, double bottom_m,
                           double top_m, const char **name);
/* moves.c: a move goes on while a machine stands within the range of a rule: behind its way there
 * and before its way on, in the last of such stops or in the first. */
void changeover_hold(changeover *c, const gradin_interlock *rule, int move, int holder,
                     bool is_last);

/* rows.c: what a share of a block's seats is called; NULL without memory. */
char *changeover_rows_text(changeover *c, const char *block, const move_detail *w);

/* The steps of a changeover, one file each, in this order; false after a diagnostic. */
bool changeover_chains(changeover *c);   /* settings that change, stops that interlocks ask for */
bool changeover_machines(changeover *c); /* machine moves, sections that move alike as one */
bool changeover_seats(changeover *c);    /* seats struck and set */
bool changeover_rails(changeover *c);    /* loose rails struck and set */
bool changeover_steps(changeover *c);    /* steps that the venue states */
void changeover_order_steps(changeover *c);
bool changeover_order(changeover *c);  /* who waits for whom, who may not run together */
bool changeover_sweeps(changeover *c); /* the same from what the machines sweep through */
/* The diagnostic of moves that wait for each other; `stuck` is one, or behind them. */
gradin_status changeover_tell_circle(changeover *c, int stuck);

/* path.c: how a rigid body has moved from where it stands in the layout that the changeover starts
 * from: turned about a point that stands there, then shifted. */
typedef struct pose {
    gradin_vec3 shift_m;
    gradin_vec2 pivot_m;
    double turn_deg;
} pose;

typedef struct volume {
    gradin_polygon polygon;
    gradin_box2 box;
    double bottom_m, top_m;
} volume;

typedef struct volumes {
    volume *item; /* [n] */
    int n;
} volumes;

/* A pose after a machine has gone by so much of its position, besides. */
pose changeover_moved(pose from, const gradin_machine *machine, double by);
/* What parts of a body fill on their way from one pose to another, along one drive; a turn in
 * pieces that reach a few millimetres further out. False without memory (the error is told). */
bool changeover_sweep(changeover *c, const gradin_body *body, pose from, pose to, volumes *out);
/* Room for that many bodies' parts, each on its way from and to. */
bool changeover_open_volumes(changeover *c, int n_part, double turn_deg, volumes *out);
/* The box round a part on its way by so much of a machine's position; one that turns, round all
 * that it could turn through. */
gradin_box2 changeover_reach(const gradin_part *part, const gradin_machine *machine, double by);

/* timing.c: the moves as a schedule's problem, false without memory; and its answer taken over. */
bool changeover_problem(changeover *c, schedule_problem *problem);
void changeover_take(changeover *c, const schedule_problem *problem, const schedule_result *found);
/* Why each starts when it does, the critical path and the most in use, in working time. */
void changeover_find_causes(changeover *c);
void changeover_set_cause(changeover *c, int i, int k); /* k waited for i */
void changeover_sum_up(changeover *c);
/* Of all moves and their trips, whenever they are. */
double changeover_person_hours(const changeover *c);

/* calendar.c: in which seconds of the clock people work. Makes the stops for so much work; false
 * after a diagnostic. */
bool changeover_calendar(changeover *c, int64_t need_s);
/* The second of the clock at which work begins that has so much before it, or ends. */
int changeover_clock_start(const changeover *c, int work_s);
int changeover_clock_end(const changeover *c, int work_s);
int changeover_worked_at(const changeover *c, int clock_s);
/* When work that would start there ends; pieces are not broken by a stop, and a start that would
 * have only a stop before it is put behind. */
int changeover_finish(const changeover *c, int *start_s, int duration_s, int piece_s);
/* What of a move, so long, is not broken by a stop: a machine's piece of piece_s, a whole step
 * where a stretch of work has room for it; 0: nothing. */
int changeover_piece(const changeover *c, int move, int duration_s, int piece_s);

/* A move, or a trip for it. */
typedef struct stretch {
    int move, trip;      /* trip -1: the move itself */
    int from_s, until_s; /* from the move's start, as first planned */
} stretch;

typedef struct network {
    stretch *item; /* [n] in order of begin */
    int *whole;    /* [n_move] its own item */
    int n;
    int *first, *earlier; /* those that have to be done before item k are earlier[first[k]] on */
} network;

/* A run through a network; [n] each. */
typedef struct network_run {
    int *start_s, *end_s;
    int *held_by; /* move whose end it waited for, -1: none */
} network_run;

/* settle.c: the moves of a plan without a start by its links, at the start that c->out has. */
bool changeover_lay_again(changeover *c, const gradin_changeover *plan);
/* network.c: false without memory; and the same from the links of a plan. */
bool changeover_network_again(changeover *c, const gradin_changeover *plan, network *g);
bool changeover_network(changeover *c, const schedule_problem *problem, network *g);
/* Runs the plan by its links, each move's time scaled by its factor (NULL: as planned). Working
 * time in all. */
int changeover_run(const changeover *c, const network *g, const double *factor, network_run *r);
/* slack.c: fills float_s; false without memory. */
bool changeover_find_slack(changeover *c, const network *g);
/* late.c: fills late; r is scratch. */
bool changeover_late(changeover *c, const network *g, network_run *r);
/* replan.c: puts all that has not begun again. False after a diagnostic. */
bool changeover_replan(changeover *c, const schedule_problem *problem, int from_move, int at_s);
/* Once the times are those of the clock: names of stops say which doors are left open. */
bool changeover_tell_open_doors(changeover *c);
/* cost.c, once the times are those of the clock. */
void changeover_cost(changeover *c);
/* settle.c: from starts in working time to all that is told of a plan. */
bool changeover_settle(changeover *c, const schedule_problem *problem,
                       const gradin_changeover_terms *terms);
/* gangs.c: fills gang and people of every move, and hand, by a network without people; false
 * without memory. */
bool changeover_gangs(changeover *c, const network *g);

#endif
