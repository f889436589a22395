/* Changeovers between the demo's layouts: every plan is gone through minute by minute against the
 * crew, the power and the venue's interlocks, told from the layouts alone. */
#include "base/faults.h"
#include "gradin/files.h"
#include "gradin/studies/changeover.h"
#include "support/reference.h"

#include <criterion/criterion.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>

enum { N_LAYOUT = 5 };
static const char *const layouts[N_LAYOUT] = {"end_stage", "thrust", "round", "traverse",
                                              "flat_floor"};
static gradin_arena *arena;
static gradin_model model[N_LAYOUT];

static void open_demo(void) {
    char path[512];
    arena = gradin_arena_create();
    for (int i = 0; i < N_LAYOUT; i++) {
        snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", layouts[i]);
        cr_assert_eq(gradin_model_read(arena, path, &model[i], NULL), GRADIN_OK, "%s", path);
    }
}
static void close_demo(void) {
    gradin_arena_destroy(arena);
}
TestSuite(changeover, .init = open_demo, .fini = close_demo);

/* A short search: what is asked of a plan here holds for all. */
static gradin_changeover plan(int from, int to) {
    const gradin_changeover_terms terms = {.n_node = 2000};
    gradin_changeover c;
    gradin_error error = {0};
    cr_assert_eq(gradin_changeover_plan_on(arena, &model[from], &model[to], &terms, &c, &error),
                 GRADIN_OK, "%s to %s: %s", layouts[from], layouts[to], error.diagnostic[0].text);
    return c;
}

static int end_of(const gradin_move *m) {
    return m->start_s + m->duration_s;
}

static void expect_limits(const gradin_changeover *c) {
    for (int t = 0; t < c->total_s; t += 60) {
        int crew = 0;
        double power_kw = 0.0;
        for (int i = 0; i < c->n_move; i++) {
            if (c->move[i].start_s > t || end_of(&c->move[i]) <= t) continue;
            crew += c->move[i].crew;
            power_kw += c->move[i].power_kw;
        }
        cr_assert_leq(crew, c->crew, "at %d s: %d people", t, crew);
        cr_assert_leq(power_kw, c->power_kw + 1e-9, "at %d s: %f kW", t, power_kw);
    }
}

/* The move of one tower drive, panel, shade or door, or NULL; none of the demo's makes a stop. */
static const gradin_move *move_of(const gradin_changeover *c, const char *machine) {
    for (int i = 0; i < c->n_move; i++)
        if (c->move[i].kind == GRADIN_MOVE_MACHINE && strcmp(c->move[i].name, machine) == 0)
            return &c->move[i];
    return NULL;
}

static gradin_interlock one_for_one(const char *name, const int *mover, const int *holder,
                                    double low, double high) {
    return (gradin_interlock){.name = name,
                              .mover = mover,
                              .holder = holder,
                              .n_mover = 1,
                              .n_holder = 1,
                              .within = {low, high}};
}

/* Holder within the range all the while that the mover's move runs. */
static void expect_held(const gradin_changeover *c, const gradin_interlock *rule, int mover,
                        int holder) {
    const gradin_machinery *a = c->from->machinery, *b = c->to->machinery;
    const gradin_move *m = move_of(c, a->machine[mover].name);
    const gradin_move *h = move_of(c, a->machine[holder].name);
    if (!m) return;
    bool before = gradin_setting_is_within(&a->machine[holder].setting, rule->within);
    bool after = gradin_setting_is_within(&b->machine[holder].setting, rule->within);
    if (before && after) return;
    double low = fmin(a->machine[mover].setting.position, b->machine[mover].setting.position);
    double high = fmax(a->machine[mover].setting.position, b->machine[mover].setting.position);
    if (rule->has_at && (low > rule->at[1] || high < rule->at[0])) return;
    cr_assert(h != NULL, "'%s': %s never moves", rule->name, a->machine[holder].name);
    if (before)
        cr_assert_leq(end_of(m), h->start_s, "'%s' broken", rule->name);
    else
        cr_assert_leq(end_of(h), m->start_s, "'%s' broken", rule->name);
}

static void expect_interlocks(const gradin_changeover *c) {
    const gradin_machinery *a = c->from->machinery;
    for (int r = 0; r < a->n_interlock; r++)
        for (int i = 0; i < a->interlock[r].n_mover; i++)
            for (int k = 0; k < a->interlock[r].n_holder; k++)
                expect_held(c, &a->interlock[r], a->interlock[r].mover[i],
                            a->interlock[r].holder[k]);
}

/* Each layout to itself, to the next and back. */
Test(changeover, plans_keep_crew_power_and_interlocks) {
    for (int i = 0; i < N_LAYOUT * N_LAYOUT; i++) {
        int step = (i % N_LAYOUT - i / N_LAYOUT + N_LAYOUT) % N_LAYOUT;
        if (step > 1 && step < N_LAYOUT - 1) continue;
        gradin_changeover c = plan(i / N_LAYOUT, i % N_LAYOUT);
        expect_limits(&c);
        expect_interlocks(&c);
        cr_expect_leq(c.lower_bound_s, c.total_s);
        cr_expect_leq(c.longest_chain_s, c.lower_bound_s);
        cr_expect_leq(c.crew_peak, c.crew);
        if (i / N_LAYOUT == i % N_LAYOUT) cr_expect_eq(c.n_move, 0, "%s", layouts[i % N_LAYOUT]);
    }
}

/* The critical path reaches from the end to the start without a gap: each move on it begins while
 * the one it waits for still runs (for a trip of the store lift) or when it ends. */
Test(changeover, critical_path_has_no_gap) {
    gradin_changeover c = plan(1, 4);
    int end_s = c.total_s, n = 0;
    for (int i = c.n_move - 1; i >= 0; i--) {
        if (!c.move[i].is_critical || end_of(&c.move[i]) < end_s) continue;
        end_s = c.move[i].start_s;
        n++;
    }
    cr_expect_eq(end_s, 0);
    cr_expect_gt(n, 1);
}

/* Common practice, no source (reference/machinery): a full changeover from thrust to flat floor of
 * a hall of about 30 m square takes of the order of six to ten hours without scenery. */
Test(changeover, thrust_to_flat_floor_takes_as_long_as_the_trade_says) {
    gradin_changeover c = plan(1, 4);
    reference trade;
    reference_read("machinery/values.csv", &trade);
    int row = reference_row(&trade, "full changeover without scenery");
    cr_assert_str_eq(reference_text(&trade, row, "unit"), "h");
    cr_expect_geq(c.total_s, reference_number(&trade, row, "low") * 3600.0);
    cr_expect_leq(c.total_s, reference_number(&trade, row, "high") * 3600.0);
    /* six towers of two levels of two rows of nine keep their seats; a wheelchair brings its own */
    cr_expect_eq(c.n_struck, c.from->seats.n_seat - c.from->seats.n_wheelchair - 6 * 2 * 2 * 9);
}

/* Moves of a kind whose names begin with a text: the first start and the last end. */
static int span_of(const gradin_changeover *c, gradin_move_kind kind, const char *name,
                   int *last_s) {
    int n = 0, first_s = c->total_s;
    *last_s = 0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        if (m->kind != kind || strncmp(m->name, name, strlen(name)) != 0) continue;
        if (m->start_s < first_s) first_s = m->start_s;
        if (end_of(m) > *last_s) *last_s = end_of(m);
        n++;
    }
    cr_assert_gt(n, 0, "%s", name);
    return first_s;
}

/* Traverse and flat floor: two banks, each with rails of its own. People set seats behind rails
 * that stand, and strike them before the rails. */
Test(changeover, rails_guard_those_who_work_on_seats) {
    static const char *const rails[] = {"rails at South", "rails at North"};
    static const char *const seats[] = {"South", "North"};
    gradin_changeover up = plan(4, 3), down = plan(3, 4);
    for (int i = 0; i < 2; i++) {
        int rails_end_s, seats_end_s, unused_s;
        span_of(&up, GRADIN_MOVE_SET, rails[i], &rails_end_s);
        cr_expect_geq(span_of(&up, GRADIN_MOVE_SET, seats[i], &unused_s), rails_end_s);
        span_of(&down, GRADIN_MOVE_STRIKE, seats[i], &seats_end_s);
        cr_expect_geq(span_of(&down, GRADIN_MOVE_STRIKE, rails[i], &unused_s), seats_end_s);
    }
}

Test(changeover, way_there_and_back_differ) {
    gradin_changeover there = plan(1, 4), back = plan(4, 1);
    cr_expect_neq(there.total_s, back.total_s);
    cr_expect_eq(there.n_struck, back.n_set);
    cr_expect_eq(there.n_set, back.n_struck);
}

static gradin_changeover plan_changed(const gradin_machinery *a, const gradin_machinery *b,
                                      gradin_error *error, gradin_status *status) {
    static gradin_model from, to;
    gradin_changeover c = {0};
    from = model[1];
    to = model[4];
    from.machinery = a;
    to.machinery = b;
    *status = gradin_changeover_plan(arena, &from, &to, &c, error);
    return c;
}

/* More hands never take longer, and the longest chain stays. */
Test(changeover, more_crew_takes_no_longer) {
    gradin_status status;
    int last_s = INT32_MAX;
    for (int crew = 8; crew <= 24; crew += 8) {
        gradin_machinery a = *model[1].machinery;
        a.crew = crew;
        gradin_changeover c = plan_changed(&a, model[4].machinery, NULL, &status);
        cr_assert_eq(status, GRADIN_OK);
        cr_expect_leq(c.total_s, last_s, "crew %d", crew);
        last_s = c.total_s;
    }
}

/* A rule that asks for what is true neither before nor after makes the holder stop on its way: the
 * slide runs between the two halves of the hoist's way. */
Test(changeover, a_machine_stops_where_a_rule_needs_it) {
    gradin_status status;
    gradin_machinery a = *model[1].machinery;
    int slide[1] = {-1}, hoist[1] = {-1};
    for (int i = 0; i < a.n_machine; i++) {
        if (strcmp(a.machine[i].name, "W2 slide") == 0) slide[0] = i;
        if (strcmp(a.machine[i].name, "E3 hoist") == 0) hoist[0] = i;
    }
    gradin_interlock rule = one_for_one("high", slide, hoist, 3.0, 5.0);
    a.interlock = &rule;
    a.n_interlock = 1;
    gradin_machinery b = *model[4].machinery;
    b.n_interlock = 1;
    gradin_changeover c = plan_changed(&a, &b, NULL, &status);
    cr_assert_eq(status, GRADIN_OK);
    const gradin_move *mover = move_of(&c, "W2 slide"), *up = NULL, *down = NULL;
    for (int i = 0; i < c.n_move; i++)
        if (strcmp(c.move[i].name, "E3 hoist") == 0) *(up ? &down : &up) = &c.move[i];
    cr_assert(mover && up && down);
    cr_expect_str_eq(up->task, "1.90 m -> 3.00 m");
    cr_expect_str_eq(down->task, "3.00 m -> 0.00 m");
    cr_expect_leq(end_of(up), mover->start_s);
    cr_expect_leq(end_of(mover), down->start_s);
}

static int find_machine(const char *name) {
    for (int i = 0; i < model[1].machinery->n_machine; i++)
        if (strcmp(model[1].machinery->machine[i].name, name) == 0) return i;
    cr_assert_fail("no machine %s", name);
    return -1;
}

/* The stop that one rule asks for breaks another, whose mover stands still all the while. */
Test(changeover, a_stop_that_breaks_another_rule_is_refused_by_name) {
    gradin_status status;
    gradin_error error = {0};
    const int shade[1] = {find_machine("blackout")}, hoist[1] = {find_machine("E3 hoist")};
    const int parked[1] = {find_machine("N1 hoist")};
    const gradin_interlock rules[2] = {one_for_one("high", shade, hoist, 3.0, 5.0),
                                       {.name = "low",
                                        .mover = parked,
                                        .holder = hoist,
                                        .n_mover = 1,
                                        .n_holder = 1,
                                        .has_at = true,
                                        .at = {7.0, 8.0},
                                        .within = {0.0, 2.0}}};
    gradin_machinery a = *model[1].machinery, b = *model[4].machinery;
    a.interlock = rules;
    a.n_interlock = b.n_interlock = 2;
    plan_changed(&a, &b, &error, &status);
    cr_expect_eq(status, GRADIN_BAD_INPUT);
    cr_expect_str_eq(error.diagnostic[0].text,
                     "interlock 'low': E3 hoist would have to leave its range while N1 hoist "
                     "stands where it is bound");
}

/* Two rules whose ranges exclude each other leave no order; what only waits behind the two is not
 * told, such as the house's own steps. */
static void refuse_without_order(const gradin_step *step, int n_step) {
    gradin_status status;
    gradin_error error = {0};
    const int slide[1] = {find_machine("W2 slide")}, hoist[1] = {find_machine("W2 hoist")};
    const gradin_interlock rules[2] = {one_for_one("slide when up", slide, hoist, 1.0, 8.0),
                                       one_for_one("hoist when out", hoist, slide, 0.0, 0.5)};
    gradin_machinery a = *model[1].machinery, b = *model[4].machinery;
    a.interlock = rules;
    a.n_interlock = b.n_interlock = 2;
    a.work.step = step;
    a.work.n_step = n_step;
    plan_changed(&a, &b, &error, &status);
    const char *text = error.diagnostic[0].text, *head = "no order of moves keeps every rule: W2 ";
    cr_expect_eq(status, GRADIN_BAD_INPUT);
    cr_expect_eq(strncmp(text, head, strlen(head)), 0, "%s", text);
    cr_expect(strstr(text, "W2 slide (") && strstr(text, "W2 hoist ("), "%s", text);
    cr_expect(strstr(text, "'slide when up'") || strstr(text, "'hoist when out'"), "%s", text);
}

Test(changeover, rules_without_an_order_are_refused) {
    static const gradin_step step[] = {
        {.name = "lock-out", .when = GRADIN_STEP_BEFORE_MACHINES, .duration_s = 900, .crew = 2},
        {.name = "sign-off", .when = GRADIN_STEP_LAST, .duration_s = 600, .crew = 1}};
    refuse_without_order(NULL, 0);
    refuse_without_order(step, 2);
}

/* 240 s a row, the rows told from the layout; one gang. */
Test(changeover, telescopic_banks_are_counted_by_rows) {
    gradin_status status;
    gradin_machinery a = *model[1].machinery;
    gradin_seating stock[3];
    memcpy(stock, a.seating, sizeof stock);
    stock[0] = (gradin_seating){"bank", GRADIN_SEATING_TELESCOPIC, 180.0, 240.0, 3, 0.0, false};
    a.seating = stock;
    gradin_changeover c = plan_changed(&a, model[4].machinery, NULL, &status);
    cr_assert_eq(status, GRADIN_OK);
    int n_work = 0, first = INT_MAX, last = 0, seconds = 0;
    for (int i = 0; i < c.n_move; i++) {
        if (!c.move[i].block || strcmp(c.move[i].block, "West") != 0 ||
            c.move[i].kind != GRADIN_MOVE_STRIKE)
            continue;
        seconds = c.move[i].duration_s;
        n_work++;
    }
    const gradin_seats *seats = &model[1].seats;
    for (int i = 0; i < seats->n_seat; i++) {
        if (strcmp(model[1].block_name[seats->block[i]], "West") != 0) continue;
        if (seats->row[i] < first) first = seats->row[i];
        if (seats->row[i] > last) last = seats->row[i];
    }
    cr_expect_eq(n_work, 1, "one gang runs a bank");
    cr_expect_eq(seconds, (last - first + 1) * 240);
}

/* A tower that stands where another has to pass, before and after, is named. */
Test(changeover, a_clash_on_the_way_is_refused_by_name) {
    gradin_status status;
    gradin_error error = {0};
    gradin_machinery a = *model[1].machinery;
    gradin_body *body = gradin_arena_alloc(arena, (size_t)a.n_body, sizeof *body);
    memcpy(body, a.body, (size_t)a.n_body * sizeof *body);
    static const gradin_vec2 beam[] = {{2.7, 12.0}, {2.9, 12.0}, {2.9, 13.0}, {2.7, 13.0}};
    static const gradin_part part = {"beam", {beam, 4}, 0.0, 8.0};
    body[a.n_body - 1] = (gradin_body){&part, 1};
    a.body = body;
    plan_changed(&a, model[4].machinery, &error, &status);
    cr_expect_eq(status, GRADIN_BAD_INPUT);
    cr_expect_str_eq(error.diagnostic[0].text,
                     "swept volumes clash: W2 slide (0.00 m -> 1.00 m) meets beam in every order "
                     "of moves");
}

Test(changeover, needs_a_crew_and_one_venue) {
    gradin_status status;
    gradin_error error = {0};
    gradin_machinery a = *model[1].machinery;
    a.crew = 0;
    plan_changed(&a, model[4].machinery, &error, &status);
    cr_expect_eq(status, GRADIN_BAD_INPUT);
    cr_expect_str_eq(error.diagnostic[0].text, "Quillon Hall (invented) states no crew; a "
                                               "changeover needs machines.crew");
    gradin_machinery b = *model[4].machinery;
    b.n_machine--;
    plan_changed(model[1].machinery, &b, &error, &status);
    cr_expect_eq(status, GRADIN_BAD_INPUT);
}

/* Every allocation of a plan fails once: a clean status each time. */
Test(changeover, survives_lack_of_memory_anywhere) {
    gradin_status status = GRADIN_NO_MEMORY;
    int n = 0;
    for (long step = 1; status != GRADIN_OK; n++, step += 1 + n / 50) {
        gradin_changeover c;
        gradin_error error = {0};
        gradin_alloc_fail_at(step);
        status = gradin_changeover_plan(arena, &model[1], &model[4], &c, &error);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "allocation %ld", step);
    }
    cr_expect_gt(n, 5, "only %d allocations failed", n);
}

/* A machine by another name, or one that runs farther, is another venue's, whatever that is called:
 * no move of it can be told. */
Test(changeover, layouts_of_venues_with_other_machines_are_refused) {
    for (int k = 0; k < 2; k++) {
        gradin_model other = model[1];
        gradin_machinery machinery = *other.machinery;
        size_t n = (size_t)machinery.n_machine;
        gradin_machine *machine = gradin_arena_alloc(arena, n, sizeof *machine);
        memcpy(machine, machinery.machine, n * sizeof *machine);
        if (k == 0) machine[n - 1].name = "another";
        if (k == 1) machine[n - 1].travel[1] += 0.5;
        machinery.machine = machine;
        other.machinery = &machinery;
        gradin_changeover c;
        gradin_error error = {0};
        cr_assert_eq(gradin_changeover_plan(arena, &model[0], &other, &c, &error),
                     GRADIN_BAD_INPUT);
        cr_expect(strstr(error.diagnostic[0].text, "are layouts of two venues"), "%s",
                  error.diagnostic[0].text);
    }
}
