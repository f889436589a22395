/* A good model loses one pointer after the other. Every function that takes a model then works or
 * says GRADIN_BAD_USE with a text; it must say so when the pointer is needed.
 * Results lose theirs before the writers.
 * usage: contract_fields LAYOUT */
#include "contract.h"

#include <stdio.h>

typedef struct scene_of_test {
    gradin_arena *arena;
    const gradin_model *good;
    const gradin_assessment *assessment;
    const gradin_noise *noise;
} scene_of_test;

typedef gradin_status user(const scene_of_test *s, const gradin_model *model);

static gradin_status use_assess(const scene_of_test *s, const gradin_model *model) {
    gradin_assessment out;
    return gradin_assess(s->arena, model, &(gradin_assess_options){.sight.n_sample = 4}, &out,
                         &frame_error);
}
static gradin_status use_sight(const scene_of_test *s, const gradin_model *model) {
    gradin_sight out;
    return gradin_sight_compute(s->arena, model, &(gradin_sight_options){.n_sample = 4}, &out,
                                &frame_error);
}
static gradin_status use_crowd(const scene_of_test *s, const gradin_model *model) {
    gradin_crowd out;
    gradin_crowd_options options = {.n_draw = 1, .n_sample = 4};
    return gradin_crowd_compute(s->arena, model, &options, &out, &frame_error);
}
static gradin_status use_rail_limits(const scene_of_test *s, const gradin_model *model) {
    gradin_rail_limits out;
    return gradin_rail_limits_compute(s->arena, model, &out, &frame_error);
}
static gradin_status use_overhangs(const scene_of_test *s, const gradin_model *model) {
    gradin_overhangs out;
    return gradin_overhangs_compute(s->arena, model, &out, &frame_error);
}
static gradin_status use_noise(const scene_of_test *s, const gradin_model *model) {
    gradin_noise out;
    return gradin_noise_compute(s->arena, model, NULL, &out, &frame_error);
}
static gradin_status use_room(const scene_of_test *s, const gradin_model *model) {
    gradin_prepared_room out;
    return gradin_room_prepare(s->arena, model, NULL, &out, &frame_error);
}
static gradin_status use_facade(const scene_of_test *s, const gradin_model *model) {
    gradin_facade out;
    return gradin_facade_rank(s->arena, model, s->noise, &out, &frame_error);
}
static gradin_status use_voice(const scene_of_test *s, const gradin_model *model) {
    gradin_voice out;
    return gradin_voice_make(s->arena, model, GRADIN_EFFORT_NORMAL, NULL, 0, &out, &frame_error);
}
static gradin_status use_rake(const scene_of_test *s, const gradin_model *model) {
    static gradin_rake out;
    const char *block = s->good->block_name[s->good->seats.block[0]];
    gradin_rake_options options = {.block = block, .c_m = 0.06, .step_m = 0.01};
    return gradin_rake_compute(s->arena, model, &options, &out, &frame_error);
}
static gradin_status use_fit(const scene_of_test *s, const gradin_model *model) {
    gradin_fit out;
    return gradin_fit_check(s->arena, model, &out, &frame_error);
}
static gradin_status use_changeover(const scene_of_test *s, const gradin_model *model) {
    gradin_changeover out;
    return gradin_changeover_plan(s->arena, model, s->good, &out, &frame_error);
}
static const gradin_outside_point street = {.name = "street", .eye_m = {-500.0, 0.0, 1.6}};
static const gradin_outside outside = {.point = &street, .n_point = 1};
static gradin_status use_outlook(const scene_of_test *s, const gradin_model *model) {
    gradin_outlook out;
    char *text;
    size_t size;
    gradin_status status =
        gradin_outlook_compute(s->arena, model, &outside, NULL, &out, &frame_error);
    if (status == GRADIN_OK)
        status =
            gradin_outlook_points_csv(s->arena, &out, GRADIN_CSV_SI, &text, &size, &frame_error);
    if (status == GRADIN_OK)
        status = gradin_outlook_seats_csv(s->arena, &out, &text, &size, &frame_error);
    if (status == GRADIN_OK)
        status = gradin_outlook_seen_csv(s->arena, &out, GRADIN_CSV_SI, &text, &size, &frame_error);
    if (status == GRADIN_OK)
        status = gradin_outlook_json(s->arena, &out, &text, &size, &frame_error);
    if (status == GRADIN_OK) status = gradin_outlook_text(s->arena, &out, &text, &frame_error);
    return status;
}
static gradin_status write_all(const scene_of_test *s, const gradin_assessment *a) {
    char *text;
    unsigned char *bytes;
    size_t size;
    gradin_status status = gradin_seats_csv(s->arena, a, GRADIN_CSV_SI, &text, &size, &frame_error);
    if (status == GRADIN_OK) status = gradin_summary_json(s->arena, a, &text, &size, &frame_error);
    if (status == GRADIN_OK) status = gradin_summary_text(s->arena, a, &text, &frame_error);
    if (status == GRADIN_OK)
        status = gradin_seats_short_csv(s->arena, a, GRADIN_CSV_SI, &text, &size, &frame_error);
    if (status == GRADIN_OK) status = gradin_hall_dxf(s->arena, a, &text, &size, &frame_error);
    if (status == GRADIN_OK) status = gradin_hall_geojson(s->arena, a, &text, &size, &frame_error);
    if (status == GRADIN_OK && gradin_map_applies(a, GRADIN_MAP_RATING))
        status = gradin_hall_glb(s->arena, a, GRADIN_MAP_RATING, GRADIN_MAP_SCALE_FITTED, &bytes,
                                 &size, &frame_error);
    for (int map = 0; map < GRADIN_N_MAP; map++) (void)gradin_map_applies(a, (gradin_map)map);
    if (status == GRADIN_OK && gradin_map_applies(a, GRADIN_MAP_VISIBLE))
        status = gradin_map_png(s->arena, a, GRADIN_MAP_VISIBLE, 0, &bytes, &size, &frame_error);
    return status;
}
static gradin_status use_writers(const scene_of_test *s, const gradin_model *model) {
    gradin_assessment a = *s->assessment;
    a.model = model;
    return write_all(s, &a);
}

static const struct {
    const char *name;
    user *use;
} users[] = {
    {"gradin_assess", use_assess},
    {"gradin_sight_compute", use_sight},
    {"gradin_crowd_compute", use_crowd},
    {"gradin_rail_limits_compute", use_rail_limits},
    {"gradin_overhangs_compute", use_overhangs},
    {"gradin_outlook_compute and its writers", use_outlook},
    {"gradin_noise_compute", use_noise},
    {"gradin_room_prepare", use_room},
    {"gradin_facade_rank", use_facade},
    {"gradin_voice_make", use_voice},
    {"gradin_rake_compute", use_rake},
    {"gradin_fit_check", use_fit},
    {"gradin_changeover_plan", use_changeover},
    {"gradin_seats_csv, gradin_summary_json, gradin_summary_text, gradin_map_png, gradin_hall_dxf "
     "and others",
     use_writers},
};

static void try_all(const scene_of_test *s, const gradin_model *model, const char *field,
                    bool is_needed) {
    for (size_t i = 0; i < sizeof users / sizeof users[0]; i++)
        FRAME(users[i].name, field,
              frame_status(users[i].use(s, model), is_needed ? FRAME_BAD_USE : FRAME_ANY));
}

int main(int n_argument, char **argument) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model good, model;
    gradin_assessment assessment, result;
    gradin_assess_options options = {.sight = {.n_sample = 4, .n_draw = 2}};
    if (n_argument != 2 || !arena ||
        gradin_model_read(arena, argument[1], &good, &frame_error) != GRADIN_OK ||
        gradin_assess(arena, &good, &options, &assessment, &frame_error) != GRADIN_OK ||
        !assessment.has_noise) {
        printf("no good model to begin with\n");
        return 1;
    }
    scene_of_test scene = {arena, &good, &assessment, &assessment.noise};
#define FIELD(pointer, count)                                                                      \
    model = good;                                                                                  \
    if (pointer) {                                                                                 \
        pointer = NULL;                                                                            \
        try_all(&scene, &model, #pointer " NULL", (count) > 0);                                    \
    }
#define RESULT(pointer)                                                                            \
    result = assessment;                                                                           \
    if (pointer) {                                                                                 \
        pointer = NULL;                                                                            \
        FRAME("the writers", #pointer " NULL",                                                     \
              frame_status(write_all(&scene, &result), FRAME_ANY));                                \
    }
#include "fields.h"
    gradin_arena_destroy(arena);
    return frame_end();
}
