/* Seating towers as they stand: each level's deck with its treads, posts and front rail, and the
 * places on the levels that are seated. */
#include "model/build.h"

/* Depth behind the front edge at which a row's tread begins; the first takes the clear front. */
static double tread_start_m(const gradin_tower_level *level, int row) {
    return row == 0 ? 0.0 : level->front_m + row * level->row_depth_m;
}

static double tread_end_m(const gradin_tower *t, const gradin_tower_level *level, int row) {
    return row == level->n_row - 1 ? t->depth_m : level->front_m + (row + 1) * level->row_depth_m;
}

static bool add_treads(builder *b, const deck *d) {
    const gradin_tower *t = &b->v->tower[d->tower];
    const gradin_tower_level *level = &t->level[d->level];
    for (int row = 0; row < level->n_row; row++) {
        double start_m = tread_start_m(level, row), end_m = tread_end_m(t, level, row);
        gradin_vec2 centre_m = point_along_m(d->front_m, d->facing_deg, -(start_m + end_m) / 2.0);
        obstacle o = {
            .name = d->name,
            .cause = GRADIN_CAUSE_STRUCTURE,
            .polygon = make_rectangle(b->c, centre_m, d->facing_deg, end_m - start_m, t->width_m),
            .bottom_m = d->deck_m - level->thickness_m,
            .top_m = d->deck_m + row * level->riser_m,
            .machine = d->tower};
        if (!o.polygon.corner_m || !add_obstacle(b, o)) return false;
    }
    return true;
}

/* Four posts from the lowest deck's underside to the top deck. */
static bool add_posts(builder *b, int index, const deck *lowest, const deck *top) {
    const gradin_tower *t = &b->v->tower[index];
    const char *name = print_text(b->c, "%s post", t->name);
    for (int i = 0; i < 4 && t->post_m > 0.0; i++) {
        double side_m = (i % 2 ? 0.5 : -0.5) * (t->width_m - t->post_m);
        double back_m = i < 2 ? t->post_m / 2.0 : t->depth_m - t->post_m / 2.0;
        gradin_vec2 at_m = point_along_m(lowest->front_m, lowest->facing_deg, -back_m);
        at_m = point_along_m(at_m, lowest->facing_deg + 90.0, side_m);
        obstacle o = {.name = name,
                      .cause = GRADIN_CAUSE_STRUCTURE,
                      .polygon =
                          make_rectangle(b->c, at_m, lowest->facing_deg, t->post_m, t->post_m),
                      .bottom_m = lowest->deck_m,
                      .top_m = top->deck_m,
                      .machine = index};
        if (!name || !o.polygon.corner_m || !add_obstacle(b, o)) return false;
    }
    return true;
}

static bool add_deck(builder *b, deck d) {
    return grow(b->c, (void **)&b->deck, b->n_deck, &b->deck_capacity, sizeof *b->deck) &&
           (b->deck[b->n_deck++] = d, true);
}

static bool build_tower(builder *b, int index) {
    const gradin_tower *t = &b->v->tower[index];
    int first = b->n_deck;
    gradin_vec2 front_m;
    double facing_deg;
    gradin_tower_stand(t, tower_slide_m(b, index), tower_turn_deg(b, index), &front_m, &facing_deg);
    for (int i = 0; i < t->n_level; i++) {
        deck d = {.name = print_text(b->c, "%s %s", t->name, t->level[i].name),
                  .tower = index,
                  .level = i,
                  .front_m = front_m,
                  .facing_deg = facing_deg,
                  .deck_m = t->level[i].deck_m + tower_hoist_m(b, index),
                  .sheet = i};
        if (!d.name || !add_deck(b, d) || !add_treads(b, &d)) return false;
    }
    return t->n_level == 0 || add_posts(b, index, &b->deck[first], &b->deck[b->n_deck - 1]);
}

bool build_decks(builder *b) {
    for (int i = 0; i < b->v->n_tower; i++)
        if (!build_tower(b, i)) return false;
    return true;
}

static bool add_deck_row(builder *b, int block, int deck_index, int row) {
    const deck *d = &b->deck[deck_index];
    const gradin_tower *t = &b->v->tower[d->tower];
    const gradin_tower_level *level = &t->level[d->level];
    int n = gradin_tower_row_seats(t, level);
    double back_m = level->front_m + (row + 0.5) * level->row_depth_m;
    gradin_vec2 middle_m = point_along_m(d->front_m, d->facing_deg, -back_m);
    for (int i = 0; i < n; i++) {
        double side_m = (i - (n - 1) / 2.0) * level->seat_width_m;
        place p = {.block = block,
                   .row = row + 1,
                   .number = i + 1,
                   .at_m = point_along_m(middle_m, d->facing_deg + 90.0, side_m),
                   .z_m = d->deck_m + row * level->riser_m,
                   .facing_deg = gradin_wrap_360_deg(d->facing_deg),
                   .width_m = level->seat_width_m,
                   .depth_m = level->row_depth_m,
                   .deck = deck_index,
                   .level = level->name};
        if (!add_place(b, p)) return false;
    }
    return true;
}

bool build_deck_places(builder *b) {
    for (int i = 0; i < b->n_deck; i++) {
        const deck *d = &b->deck[i];
        if (!b->p->is_seated[d->tower]) continue;
        int block = add_block_name(b, d->name, NULL);
        if (block < 0) return false;
        for (int row = 0; row < b->v->tower[d->tower].level[d->level].n_row; row++)
            if (!add_deck_row(b, block, i, row)) return false;
    }
    return true;
}
