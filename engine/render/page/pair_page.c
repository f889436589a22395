/* The page of two layouts compared: both plans, the difference, tables, verdict. */
#include "render/draw/doubt.h"
#include "render/maps/legend.h"
#include "render/page/parts.h"

#include <stdio.h>
#include <string.h>

#define TOP 140.0
#define PLANS_HEIGHT 800.0
#define GAP 28.0

static const gradin_assessment *side(const gradin_pages *p, int pair, int which) {
    const gradin_compared_pair *of = &p->comparison->pair[pair];
    return p->comparison->layout[which ? of->second : of->first].assessment;
}

static void draw_head(board *s, const gradin_pages *p, int pair) {
    const gradin_model *a = side(p, pair, 0)->model, *b = side(p, pair, 1)->model;
    const gradin_change_sums *all = &p->comparison->pair[pair].all;
    board_head head = {.lines = {"", "", ""}};
    int n = all->n_better + all->n_same + all->n_worse;
    snprintf(head.title, sizeof head.title, "A %.120s beside B %.120s", a->layout_name,
             b->layout_name);
    if (strcmp(a->venue_name, b->venue_name) == 0)
        snprintf(head.about, sizeof head.about, "%.160s \xC2\xB7 A %d seats \xC2\xB7 B %d seats",
                 a->venue_name, a->seats.n_seat, b->seats.n_seat);
    else
        snprintf(head.about, sizeof head.about, "A %.100s, %d seats \xC2\xB7 B %.100s, %d seats",
                 a->venue_name, a->seats.n_seat, b->venue_name, b->seats.n_seat);
    snprintf(head.lines[0], sizeof head.lines[0],
             "%d seats stand in both: in B %d have a better class, %d the same, %d a worse one", n,
             all->n_better, all->n_same, all->n_worse);
    snprintf(head.lines[1], sizeof head.lines[1], "%d seats only in A, %d only in B",
             all->n_alone[0], all->n_alone[1]);
    board_draw_head(s, &head);
}

static void draw_rating(board *s, const gradin_pages *p, int pair, int which, gradin_box2 box) {
    const gradin_compared_pair *of = &p->comparison->pair[pair];
    const gradin_assessment *a = side(p, pair, which);
    const gradin_seat_sums *sum = &p->comparison->layout[which ? of->second : of->first].all;
    quantity q = quantity_of(a, GRADIN_MAP_RATING, GRADIN_MAP_SCALE_FITTED);
    const board_plan what = {&q, NULL, true};
    char title[160];
    double width = box.x_max_m - box.x_min_m;
    snprintf(title, sizeof title, "%c %.100s: rating by class", which ? 'B' : 'A',
             a->model->layout_name);
    board_part_title(s, box.x_min_m, box.y_min_m, width, title);
    board_draw_plans(s, &what,
                     box_at(box.x_min_m, box.y_min_m + PART_HEAD, width,
                            box.y_max_m - box.y_min_m - PART_HEAD - 44.0));
    board_draw_classes(s, sum, box.x_min_m, box.y_max_m - 34.0, width);
}

static void draw_change(board *s, const gradin_pages *p, int pair, gradin_box2 box) {
    quantity q;
    double width = box.x_max_m - box.x_min_m;
    const board_plan what = {&q, NULL, true};
    if (quantity_of_pair(s->scratch, p->comparison, pair, GRADIN_COMPARE_MAP_RATING, &q, NULL) !=
        GRADIN_OK) {
        s->failed = true;
        return;
    }
    board_part_title(s, box.x_min_m, box.y_min_m, width,
                     "B less A: classes better (+) or worse (\xE2\x88\x92)");
    board_draw_plans(s, &what,
                     box_at(box.x_min_m, box.y_min_m + PART_HEAD, width,
                            box.y_max_m - box.y_min_m - PART_HEAD - 62.0));
    board_draw_scale(s, &q, box.x_min_m + 12.0, box.y_max_m - 52.0, 0.5 * width);
    text_style style = {.size = 14.0, .ink = COLOUR_QUIET};
    canvas_text_within(s->page, style, box.x_min_m + 0.5 * width + 30.0, box.y_max_m - 40.0,
                       0.5 * width - 30.0, 11.0,
                       "white: the same class (=), or only in B (\xE2\x80\x93)");
    canvas_text_within(s->page, style, box.x_min_m + 0.5 * width + 30.0, box.y_max_m - 20.0,
                       0.5 * width - 30.0, 11.0, "slash: worse by what can be told");
}

void board_draw_pair(board *s, const gradin_pages *p, int pair) {
    const gradin_assessment *b = side(p, pair, 1);
    char noise[TEXT_CHARS] = "", digests[100];
    double each = (A3_INNER - 2.0 * GAP) / 3.0;
    if (b->has_noise)
        doubt_text(b->systematic.median, b->noise.uncertainty.scatter_db, noise, sizeof noise);
    snprintf(digests, sizeof digests, "A %.32s, B %.32s", side(p, pair, 0)->model->digest,
             b->model->digest);
    draw_head(s, p, pair);
    for (int i = 0; i < 2; i++)
        draw_rating(s, p, pair, i, box_at(A3_MARGIN + i * (each + GAP), TOP, each, PLANS_HEIGHT));
    draw_change(s, p, pair, box_at(A3_MARGIN + 2.0 * (each + GAP), TOP, each, PLANS_HEIGHT));
    board_draw_pair_tables(s, p, pair, TOP + PLANS_HEIGHT + 22.0, A3_HEIGHT - 104.0);
    board_draw_foot(s, noise, digests);
}
