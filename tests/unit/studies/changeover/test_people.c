/* Towers that move over and beside people: the thrust of the demo is struck for its flat floor,
 * with a tower's body put where the test needs it. Hands and power are no limit, so that nothing
 * else waits. */
#include "gradin/files.h"
#include "gradin/studies/changeover.h"
#include "support/reference.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static gradin_arena *arena;
static gradin_model from, to;

static void read_layout(const char *name, gradin_model *model) {
    char path[512];
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", name);
    cr_assert_eq(gradin_model_read(arena, path, model, NULL), GRADIN_OK, "%s", path);
}

static void open_layouts(void) {
    arena = gradin_arena_create();
    read_layout("thrust", &from);
    read_layout("flat_floor", &to);
}
static void close_layouts(void) {
    gradin_arena_destroy(arena);
}
TestSuite(changeover_people, .init = open_layouts, .fini = close_layouts);

static int find_machine(const gradin_machinery *m, const char *name) {
    for (int i = 0; i < m->n_machine; i++)
        if (strcmp(m->machine[i].name, name) == 0) return i;
    cr_assert_fail("no machine %s", name);
    return -1;
}

/* The machinery with S1 as a small beam over the point, hoisted without fear of people near it. */
static const gradin_machinery *with_beam(const gradin_machinery *before, gradin_vec2 at_m,
                                         double bottom_m, bool are_people_near) {
    gradin_machinery *m = gradin_arena_alloc(arena, 1, sizeof *m);
    gradin_machine *machine = gradin_arena_alloc(arena, (size_t)before->n_machine, sizeof *machine);
    gradin_body *body = gradin_arena_alloc(arena, (size_t)before->n_body, sizeof *body);
    gradin_vec2 *corner = gradin_arena_alloc(arena, 3, sizeof *corner);
    gradin_part *part = gradin_arena_alloc(arena, 1, sizeof *part);
    int hoist = find_machine(before, "S1 hoist");
    memcpy(machine, before->machine, (size_t)before->n_machine * sizeof *machine);
    memcpy(body, before->body, (size_t)before->n_body * sizeof *body);
    corner[0] = (gradin_vec2){at_m.x - 0.1, at_m.y - 0.1};
    corner[1] = (gradin_vec2){at_m.x + 0.1, at_m.y};
    corner[2] = (gradin_vec2){at_m.x - 0.1, at_m.y + 0.1};
    *part = (gradin_part){"beam", {corner, 3}, bottom_m, bottom_m + 0.2};
    body[machine[hoist].body] = (gradin_body){part, 1};
    machine[hoist].drive.are_people_near = are_people_near;
    *m = *before;
    m->machine = machine, m->body = body;
    m->crew = 400, m->power_kw = 4000.0;
    return m;
}

static gradin_changeover plan(const gradin_machinery *a, const gradin_machinery *b) {
    gradin_model first = from, then = to;
    gradin_changeover c;
    gradin_error error = {0};
    first.machinery = a, then.machinery = b;
    cr_assert_eq(gradin_changeover_plan(arena, &first, &then, &c, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    return c;
}

/* From the first start to the last end of what is struck or moved under a name. */
static void span(const gradin_changeover *c, gradin_move_kind kind, const char *name, int *start_s,
                 int *end_s) {
    *start_s = c->total_s + 1, *end_s = -1;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        if (m->kind != kind || strncmp(m->name, name, strlen(name)) != 0) continue;
        if (m->start_s < *start_s) *start_s = m->start_s;
        if (m->start_s + m->duration_s > *end_s) *end_s = m->start_s + m->duration_s;
    }
    cr_assert_geq(*end_s, 0, "%s", name);
}

static int southmost_seat(void) {
    int found = -1;
    for (int i = 0; i < from.seats.n_seat; i++)
        if (strcmp(from.block_name[from.seats.block[i]], "South") == 0 &&
            (found < 0 || from.seats.floor_m[i].y < from.seats.floor_m[found].y))
            found = i;
    return found;
}

/* A seat and who sits on it take 1.4 m: a tower that comes down to 1.3 m over a seat's floor waits
 * until the seat is struck, one that stays 1.5 m over it does not. */
Test(changeover_people, a_tower_waits_for_the_seats_in_its_way) {
    gradin_vec3 seat_m = from.seats.floor_m[southmost_seat()];
    int hoist = find_machine(from.machinery, "S1 hoist"), start_s, end_s, unused_s, struck_s;
    double way_m = from.machinery->machine[hoist].setting.position; /* down to 0 */
    for (int k = 0; k < 2; k++) {
        gradin_changeover c = plan(with_beam(from.machinery, (gradin_vec2){seat_m.x, seat_m.y},
                                             seat_m.z + way_m + (k ? 1.5 : 1.3), true),
                                   to.machinery);
        span(&c, GRADIN_MOVE_MACHINE, "S1 hoist", &start_s, &end_s);
        span(&c, GRADIN_MOVE_STRIKE, "South", &unused_s, &struck_s);
        cr_expect_eq(start_s >= struck_s, k == 0);
    }
}

/* Nobody works within 1 m of a machine that moves (common practice, no source:
 * reference/machinery). */
Test(changeover_people, nobody_works_beside_a_moving_tower) {
    gradin_vec3 seat_m = from.seats.floor_m[southmost_seat()];
    int start_s, end_s, work_s, struck_s;
    reference trade;
    reference_read("machinery/values.csv", &trade);
    int row = reference_row(&trade, "clear distance between people and a moving machine");
    double clear_m = reference_number(&trade, row, "high");
    for (int k = 0; k < 2; k++) {
        gradin_vec2 at_m = {seat_m.x, seat_m.y - 0.1 - clear_m + (k ? -0.02 : 0.02)};
        gradin_changeover c = plan(with_beam(from.machinery, at_m, 9.0, false),
                                   with_beam(to.machinery, at_m, 7.7, false));
        bool meets = false;
        span(&c, GRADIN_MOVE_MACHINE, "S1 hoist", &start_s, &end_s);
        for (int i = 0; i < c.n_move; i++) {
            const gradin_move *m = &c.move[i];
            if (m->kind != GRADIN_MOVE_STRIKE || strncmp(m->name, "South", 5) != 0) continue;
            work_s = m->start_s, struck_s = m->start_s + m->duration_s;
            meets |= work_s < end_s && start_s < struck_s;
        }
        cr_expect_eq(meets, k == 1);
    }
}
