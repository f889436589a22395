/* A room that was worked out before is taken up by a choice, which hears the same in it. */
#include "gradin/acoustics/event.h"
#include "gradin/files.h"
#include "gradin/studies/choose.h"

#include <criterion/criterion.h>

typedef struct night {
    gradin_arena *arena;
    gradin_model model;
    gradin_traffic traffic;
    gradin_show show;
} night;

/* A small hall by radiosity, and the first event of the demo's season. */
static void open_night(night *n) {
    gradin_error error = {0};
    n->arena = gradin_arena_create();
    n->show = gradin_show_defaults();
    n->show.name = "s";
    n->show.limit_dba = 30.0;
    n->show.events = 1.0;
    gradin_status status = gradin_model_read(
        n->arena, GRADIN_SOURCE_DIR "/tests/faults/hall/layout.yaml", &n->model, &error);
    if (status == GRADIN_OK)
        status = gradin_traffic_read(n->arena, GRADIN_SOURCE_DIR "/demo/season.yaml", false,
                                     &n->traffic, NULL, &error);
    cr_assert_eq(status, GRADIN_OK, "%s", error.diagnostic[0].text);
    n->model.room_method = GRADIN_ROOM_RADIOSITY;
    n->model.room_patch_m = 3.0;
    n->traffic.n_event = 1;
}

static const double *choose(night *n, gradin_kept_room *kept, gradin_choice *choice) {
    const gradin_choose_options how = {.kept = kept};
    gradin_error error = {0};
    gradin_status status =
        gradin_choose(n->arena, &n->show, &n->model, 1, NULL, &n->traffic, &how, choice, &error);
    cr_assert_eq(status, GRADIN_OK, "%s", error.diagnostic[0].text);
    cr_assert(choice->candidate[0].noise.is_there);
    return choice->candidate[0].noise.over_high;
}

Test(choose_rooms, a_room_is_worked_out_once) {
    night n;
    gradin_choice first, second, alone;
    gradin_prepared_room room;
    gradin_error error = {0};
    gradin_kept_room kept = {.n_made = 0};
    open_night(&n);
    cr_assert_eq(gradin_room_prepare_kept(n.arena, &n.model, NULL, &kept, &room, &error),
                 GRADIN_OK);
    cr_assert_eq(kept.n_made, 1);
    const double *over = choose(&n, &kept, &first), *again = choose(&n, &kept, &second);
    const double *own = choose(&n, NULL, &alone);
    cr_expect_eq(kept.n_made, 1);
    for (int i = 0; i < n.model.seats.n_seat; i++)
        cr_expect(over[i] == again[i] && fabs(over[i] - own[i]) <= 1e-9, "%.17g %.17g %.17g",
                  over[i], again[i], own[i]);
    gradin_kept_room_clear(&kept);
    /* shades as the show wants them make another room */
    n.show.shades = n.model.shade[0].closed > 0.5 ? 0 : 1;
    choose(&n, &kept, &first);
    cr_expect_eq(kept.n_made, 2);
    n.show.shades = -1;
    choose(&n, &kept, &first);
    cr_expect_eq(kept.n_made, 3);
    gradin_kept_room_clear(&kept);
    gradin_arena_destroy(n.arena);
}
