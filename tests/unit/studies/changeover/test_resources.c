/* What moves share, told from the layouts alone: one store lift that makes one trip at a time and
 * draws its power once, the sections of a grid that may move at once, and the power of the house.
 * Plans between the demo's layouts, and the demo's machines under tighter limits. */
#include "gradin/files.h"
#include "gradin/studies/changeover.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_LAYOUT = 5, THRUST = 1, FLAT = 4, MAX_TRIP = 200 };
static gradin_arena *arena;
static gradin_model model[N_LAYOUT];

static void open_demo(void) {
    static const char *const name[] = {"end_stage", "thrust", "round", "traverse", "flat_floor"};
    char path[512];
    arena = gradin_arena_create();
    for (int i = 0; i < N_LAYOUT; i++) {
        snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", name[i]);
        cr_assert_eq(gradin_model_read(arena, path, &model[i], NULL), GRADIN_OK, "%s", path);
    }
}
static void close_demo(void) {
    gradin_arena_destroy(arena);
}
TestSuite(changeover_resources, .init = open_demo, .fini = close_demo);

/* By a short search: the limits hold for all plans. */
static gradin_changeover plan_under(int from, int to, const gradin_machinery *a,
                                    const gradin_machinery *b) {
    static gradin_model one, two;
    gradin_changeover c;
    gradin_error error = {0};
    one = model[from], two = model[to];
    one.machinery = a, two.machinery = b;
    const gradin_changeover_terms terms = {.n_node = 2000};
    cr_assert_eq(gradin_changeover_plan_on(arena, &one, &two, &terms, &c, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    return c;
}

static gradin_changeover plan(int from, int to) {
    return plan_under(from, to, model[from].machinery, model[to].machinery);
}

static int end_of(const gradin_move *m) {
    return m->start_s + m->duration_s;
}

static int by_start(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* Seats of a move from its task: "strike 36 x bolted chair". */
static int seats_of(const gradin_move *m) {
    const char *number = strpbrk(m->task, "0123456789");
    return m->kind != GRADIN_MOVE_MACHINE && strstr(m->task, " x ") ? atoi(number) : 0;
}

/* Pieces of the thrust's furniture from "take out 10 pieces, by store lift"; 5 go on a trip. */
static int pieces_of(const gradin_move *m) {
    const char *number = strpbrk(m->task, "0123456789");
    return strstr(m->task, "pieces, by store lift") ? atoi(number) : 0;
}

static int trips_of(const gradin_move *m) {
    return (seats_of(m) + 39) / 40 + (pieces_of(m) + 4) / 5;
}

/* One trip in each 40 seats, 4.5 m down and up at 0.15 m/s and 0.1 m/s2, 240 s of loading:
 * 2 (4.5/0.15 + 0.15/0.1) + 240 = 303 s. Each lies inside its gang's work; no two overlap. */
static void expect_one_store_lift(const gradin_changeover *c) {
    int trip_s[MAX_TRIP], n = 0;
    cr_expect_eq(c->trip_s, 303);
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        cr_assert_eq(m->n_trip, trips_of(m), "%s: %d trips", m->task, m->n_trip);
        for (int k = 0; k < m->n_trip; k++) {
            cr_assert_geq(m->trip_start_s[k], m->start_s);
            cr_assert_leq(m->trip_start_s[k] + 303, end_of(m));
            cr_assert_lt(n, MAX_TRIP);
            trip_s[n++] = m->trip_start_s[k];
        }
    }
    qsort(trip_s, (size_t)n, sizeof *trip_s, by_start);
    for (int i = 1; i < n; i++)
        cr_expect_geq(trip_s[i], trip_s[i - 1] + 303, "two trips at %d s", trip_s[i]);
}

static bool is_lift(const gradin_move *m) {
    return strncmp(m->lane, "lifts ", 6) == 0;
}

/* Sections that move at a time: as many as the power says, 4 kW each. */
static int moving_in(const gradin_changeover *c, const char *lane, int t_s) {
    int n = 0;
    for (int i = 0; i < c->n_move; i++)
        if (is_lift(&c->move[i]) && strcmp(c->move[i].lane, lane) == 0 &&
            c->move[i].start_s <= t_s && end_of(&c->move[i]) > t_s)
            n += (int)lround(c->move[i].power_kw / 4.0);
    return n;
}

static double power_kw_at(const gradin_changeover *c, int t_s) {
    double sum = 0.0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        if (m->start_s <= t_s && end_of(m) > t_s) sum += m->power_kw;
        for (int k = 0; k < m->n_trip; k++)
            if (m->trip_start_s[k] <= t_s && m->trip_start_s[k] + c->trip_s > t_s)
                sum += c->from->machinery->store->drive.power_kw;
    }
    return sum;
}

static void expect_limits(const gradin_changeover *c) {
    double peak_kw = 0.0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        cr_expect_leq(moving_in(c, "lifts F", m->start_s), 8, "at %d s", m->start_s);
        cr_expect_leq(moving_in(c, "lifts S", m->start_s), 12, "at %d s", m->start_s);
        peak_kw = fmax(peak_kw, power_kw_at(c, m->start_s));
        for (int k = 0; k < m->n_trip; k++)
            peak_kw = fmax(peak_kw, power_kw_at(c, m->trip_start_s[k]));
    }
    cr_expect_leq(peak_kw, c->power_kw);
    cr_expect_float_eq(peak_kw, c->power_peak_kw, 1e-9);
}

/* Each layout to the next and back; the other pairs are the independent verifier's. */
Test(changeover_resources, one_store_lift_and_the_sections_at_once_hold) {
    for (int i = 0; i < N_LAYOUT; i++) {
        int next = (i + 1) % N_LAYOUT;
        gradin_changeover there = plan(i, next), back = plan(next, i);
        expect_one_store_lift(&there), expect_limits(&there);
        expect_one_store_lift(&back), expect_limits(&back);
    }
}

/* A copy of a layout's machinery with other lift drives. */
static gradin_machinery *with_lifts(int layout, int at_once, double lift_kw, double power_kw) {
    gradin_machinery *m = gradin_arena_alloc(arena, 1, sizeof *m);
    *m = *model[layout].machinery;
    gradin_machine *machine = gradin_arena_alloc(arena, (size_t)m->n_machine, sizeof *machine);
    memcpy(machine, m->machine, (size_t)m->n_machine * sizeof *machine);
    for (int i = 0; i < m->n_machine; i++) {
        if (machine[i].kind != GRADIN_MACHINE_SECTION) continue;
        machine[i].drive.at_once = at_once;
        machine[i].drive.power_kw = lift_kw;
    }
    m->machine = machine;
    m->power_kw = power_kw;
    return m;
}

static gradin_changeover plan_lifts(int at_once, double lift_kw, double power_kw) {
    return plan_under(THRUST, FLAT, with_lifts(THRUST, at_once, lift_kw, power_kw),
                      with_lifts(FLAT, at_once, lift_kw, power_kw));
}

static const gradin_move *find_move(const gradin_changeover *c, const char *name) {
    for (int i = 0; i < c->n_move; i++)
        if (strcmp(c->move[i].name, name) == 0) return &c->move[i];
    return NULL;
}

/* Two lifts may move at once, but the house has power for one: one after the other, as with a drive
 * that moves one at a time, and not refused. */
Test(changeover_resources, power_for_one_moves_two_lifts_one_after_the_other) {
    gradin_changeover c = plan_lifts(2, 7.0, 13.0), single = plan_lifts(1, 7.0, INFINITY);
    gradin_changeover pairs = plan_lifts(2, 7.0, INFINITY);
    int n = 0, n_slower = 0;
    for (int i = 0; i < c.n_move; i++) {
        const gradin_move *m = &c.move[i], *alone = find_move(&single, m->name);
        if (!is_lift(m)) continue;
        cr_assert(alone != NULL, "%s", m->name);
        cr_expect_eq(m->power_kw, 7.0);
        cr_expect_eq(m->duration_s, alone->duration_s, "%s", m->name);
        n_slower += m->duration_s > find_move(&pairs, m->name)->duration_s;
        n++;
    }
    cr_expect_gt(n, 3);
    cr_expect_gt(n_slower, 0);
}

/* The trips draw their power on top of the lifts: 12 kW of 15 leave none for a section of 4 kW. */
Test(changeover_resources, no_lift_moves_while_the_store_lift_takes_the_power) {
    gradin_changeover c = plan_lifts(8, 4.0, 15.0);
    int n_trip = 0;
    for (int i = 0; i < c.n_move; i++)
        for (int k = 0; k < c.move[i].n_trip; k++, n_trip++)
            for (int t_s = 0; t_s < 303; t_s += 101)
                cr_expect_eq(moving_in(&c, "lifts F", c.move[i].trip_start_s[k] + t_s), 0);
    cr_expect_gt(n_trip, 0);
    cr_expect_leq(c.power_peak_kw, 15.0);
    expect_one_store_lift(&c);
}

/* A lift of three treads must be low for another's move: it goes flat and stops there. */
Test(changeover_resources, a_terraced_lift_gets_a_stop) {
    gradin_machinery a = *model[THRUST].machinery, b = *model[FLAT].machinery;
    int slide[1] = {-1}, lift[1] = {-1};
    for (int i = 0; i < a.n_machine; i++) {
        if (strcmp(a.machine[i].name, "W2 slide") == 0) slide[0] = i;
        if (lift[0] < 0 && a.machine[i].setting.n_step == 3) lift[0] = i;
    }
    cr_assert(slide[0] >= 0 && lift[0] >= 0);
    const gradin_interlock rule = {.name = "low",
                                   .mover = slide,
                                   .holder = lift,
                                   .n_mover = 1,
                                   .n_holder = 1,
                                   .within = {-2.0, -1.0}};
    a.interlock = &rule;
    a.n_interlock = b.n_interlock = 1;
    gradin_changeover c = plan_under(THRUST, FLAT, &a, &b);
    const gradin_move *mover = NULL, *down = NULL, *up = NULL;
    for (int i = 0; i < c.n_move; i++) {
        if (strcmp(c.move[i].name, "W2 slide") == 0) mover = &c.move[i];
        if (strcmp(c.move[i].name, a.machine[lift[0]].name) == 0)
            *(down ? &up : &down) = &c.move[i];
    }
    cr_assert(mover && down && up);
    cr_expect(strstr(down->task, "-> -1.00 m"), "%s", down->task);
    cr_expect(strstr(up->task, "-1.00 m ->"), "%s", up->task);
    cr_expect_leq(end_of(down), mover->start_s);
    cr_expect_leq(end_of(mover), up->start_s);
}
