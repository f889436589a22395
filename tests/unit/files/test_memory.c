/* The small hall read from its files and the same hall filled in memory give one model. */
#include "small_hall.h"
#include "support/memory_hall.h"

#include <criterion/criterion.h>
#include <string.h>

static const change none = {0};

static void expect_same_seats(const gradin_seats *a, const gradin_seats *b) {
    size_t n = (size_t)a->n_seat;
    cr_assert_eq(a->n_seat, b->n_seat);
    cr_expect_eq(memcmp(a->eye_m, b->eye_m, n * sizeof *a->eye_m), 0);
    cr_expect_eq(memcmp(a->floor_m, b->floor_m, n * sizeof *a->floor_m), 0);
    cr_expect_eq(memcmp(a->facing_deg, b->facing_deg, n * sizeof *a->facing_deg), 0);
    cr_expect_eq(memcmp(a->section, b->section, n * sizeof *a->section), 0);
    for (int i = 0; i < a->n_seat; i++) cr_expect_str_eq(a->id[i], b->id[i]);
}

static void expect_same_scene(const gradin_model *a, const gradin_model *b) {
    cr_assert_eq(a->scene.n_occluder, b->scene.n_occluder);
    for (int i = 0; i < a->scene.n_occluder; i++) {
        const gradin_occluder *p = &a->scene.occluder[i], *q = &b->scene.occluder[i];
        cr_expect(p->cause == q->cause && p->owner == q->owner && p->shape.kind == q->shape.kind);
        cr_expect_eq(memcmp(&p->shape.bound_centre_m, &q->shape.bound_centre_m,
                            sizeof p->shape.bound_centre_m),
                     0);
        cr_expect_eq(p->shape.bound_radius_m, q->shape.bound_radius_m);
        cr_expect_str_eq(a->occluder_name[p->name], b->occluder_name[q->name]);
    }
}

static void expect_same_room(const gradin_model *a, const gradin_model *b) {
    cr_assert_eq(a->n_element, b->n_element);
    for (int i = 0; i < a->n_element; i++) {
        const gradin_element *p = &a->element[i], *q = &b->element[i];
        cr_expect_str_eq(p->name, q->name);
        cr_expect_eq(memcmp(&p->corner_m, &q->corner_m, sizeof p->corner_m), 0);
        cr_expect(p->width_m == q->width_m && p->joint_m == q->joint_m && p->open == q->open);
        cr_expect(p->joint_r_db == q->joint_r_db && p->shade == q->shade);
    }
    cr_assert_eq(a->n_surface, b->n_surface);
    for (int i = 0; i < a->n_surface; i++) {
        cr_expect_eq(a->surface[i].area_m2, b->surface[i].area_m2);
        cr_expect_eq(memcmp(a->surface[i].absorption, b->surface[i].absorption,
                            sizeof a->surface[i].absorption),
                     0);
    }
    cr_expect_eq(memcmp(a->pass->level_db, b->pass->level_db, sizeof a->pass->level_db), 0);
}

static void expect_same_machines(const gradin_machinery *a, const gradin_machinery *b) {
    cr_assert_eq(a->n_machine, b->n_machine);
    for (int i = 0; i < a->n_machine; i++) {
        const gradin_machine *p = &a->machine[i], *q = &b->machine[i];
        cr_expect_str_eq(p->name, q->name);
        cr_expect(gradin_setting_equal(&p->setting, &q->setting));
        cr_expect_eq(p->drive.speed_per_s, q->drive.speed_per_s, "%s", p->name);
        cr_expect(p->travel[0] == q->travel[0] && p->travel[1] == q->travel[1], "%s", p->name);
    }
}

Test(memory, a_hall_from_files_and_one_from_memory_are_the_same) {
    hall *read = hall_open(none, none);
    cr_assert_eq(read->status, GRADIN_OK, "%s", hall_first(read));
    memory_hall h;
    gradin_model m;
    memory_hall_make(&h);
    cr_assert_eq(gradin_model_build(h.arena, &h.venue, &h.layout, &m, &h.error), GRADIN_OK, "%s",
                 memory_hall_first(&h));
    expect_same_seats(&read->model.seats, &m.seats);
    expect_same_scene(&read->model, &m);
    expect_same_room(&read->model, &m);
    expect_same_machines(read->model.machinery, m.machinery);
    cr_expect_eq(memcmp(&read->model.limits, &m.limits, sizeof m.limits), 0);
    cr_expect_eq(memcmp(&read->model.audience, &m.audience, sizeof m.audience), 0);
    cr_expect_eq(read->model.criterion.nc, m.criterion.nc);
    hall_close(read);
    memory_hall_close(&h);
}
