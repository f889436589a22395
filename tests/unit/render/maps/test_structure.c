/* What stands in the room keeps its place on the plan free of names. Where a column lies on the
 * page is worked out here from its corners, y downwards. */
#include "render/plan/plan.h"
#include "unit/render/fake_hall.h"

#include <criterion/criterion.h>

static const text_style style = {.size = 12.0};
static const gradin_vec2 corners[] = {{10, 8}, {14, 8}, {14, 11}, {10, 11}};

static gradin_arena *arena;
static gradin_model model;
static gradin_solid solid;
static view v;
static canvas page;
static label_grid grid;
static plan p;

static void set_up(void) {
    gradin_error error = {0};
    arena = gradin_arena_create();
    model = fake_hall_create(arena)->model;
    solid = (gradin_solid){.name = "one",
                           .kind = GRADIN_SOLID_COLUMN,
                           .polygon = {corners, 4},
                           .top_m = 9,
                           .sheet = -1};
    model.solid = &solid;
    model.n_solid = 1;
    model.n_rail = 0;
    cr_assert(view_of(&model, &v));
    cr_assert_eq(canvas_open(&page, arena, v.page_height, 1.0, &error), GRADIN_OK);
    cr_assert_eq(labels_open(&grid, arena, &v, &error), GRADIN_OK);
    p = (plan){.page = &page, .v = &v, .model = &model, .grid = &grid};
}

static void tear_down(void) {
    canvas_close(&page);
    gradin_arena_destroy(arena);
}

TestSuite(structure, .init = set_up, .fini = tear_down);

/* Between two corners of the room, metres, first south-west and then north-east. */
static bool is_name_put(gradin_vec2 low_m, gradin_vec2 high_m) {
    gradin_vec2 low = {v.origin.x + low_m.x * v.unit_per_m, v.origin.y - high_m.y * v.unit_per_m};
    gradin_vec2 high = {v.origin.x + high_m.x * v.unit_per_m, v.origin.y - low_m.y * v.unit_per_m};
    gradin_vec2 middle = {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)};
    return labels_put(&grid, &page, style, (gradin_box2){low.x, low.y, high.x, high.y}, middle,
                      true, "here");
}

Test(structure, no_name_is_written_over_a_column) {
    plan_draw_structure(&p);
    cr_expect_not(is_name_put(corners[0], corners[2]));
    cr_expect(is_name_put((gradin_vec2){10, 12}, (gradin_vec2){14, 15}), "north of it is room");
    cr_expect(is_name_put((gradin_vec2){10, 4}, (gradin_vec2){14, 7}), "south of it is room");
}

Test(structure, a_set_piece_is_named_where_it_stands) {
    solid.kind = GRADIN_SOLID_SET;
    plan_draw_structure(&p);
    cr_expect(is_name_put(corners[0], corners[2]));
}

Test(structure, what_stands_on_another_level_takes_no_room) {
    solid.sheet = 1;
    plan_draw_structure(&p);
    cr_expect(is_name_put(corners[0], corners[2]));
}
