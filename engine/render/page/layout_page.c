/* The page of one layout: plans, sections, tables. */
#include "gradin/acoustics/noise_rating.h"
#include "render/draw/doubt.h"
#include "render/maps/legend.h"
#include "render/page/parts.h"

#include <stdio.h>
#include <string.h>

#define TOP 140.0
#define MAIN_SHARE 0.56
#define BOTTOM (A3_HEIGHT - 104.0)
#define LEAST_PLANS 640.0
#define MOST_PLANS 960.0
#define GAP 28.0
#define SMALL_FOOT 80.0 /* scale below a small plan */

static void noise_line(const gradin_assessment *a, char *text, size_t size) {
    char median[16], limits[96];
    const int *v = a->n_verdict;
    text[0] = '\0';
    if (!a->has_noise) return;
    gradin_format_fixed(median, sizeof median, a->lamax_db[0].median, 1);
    size_t used = (size_t)snprintf(
        text, size, "Overflight: %s dB(A) at the median seat%s", median,
        a->lamax_db[0].median < GRADIN_QUIET_HALL_DBA ? ", under a very quiet hall's noise" : "");
    if (!board_noise_limits(&a->model->criterion, limits, sizeof limits))
        snprintf(text + used, size - used, "; no limit is stated");
    else
        snprintf(text + used, size - used, "; %s: %d seats within, %d too near to tell, %d over",
                 limits, v[GRADIN_VERDICT_WITHIN], v[GRADIN_VERDICT_NEAR], v[GRADIN_VERDICT_OVER]);
}

/* What stands in no level, and what it may add to all of them: the verdicts hold it. */
static void gaps_line(const gradin_assessment *a, char *text, size_t size) {
    const gradin_gaps *g = &a->noise.gaps;
    const char *name[GRADIN_N_GAP + 1];
    char more[16];
    int n = 0;
    text[0] = '\0';
    if (!a->has_noise) return;
    for (int i = 0; i < g->n_gap; i++) name[n++] = g->gap[i].what;
    if (g->ground == GRADIN_GROUND_NONE) name[n++] = "ground";
    if (n == 0) return;
    size_t used = (size_t)snprintf(text, size, "Not in these levels: ");
    for (int i = 0; i < n; i++)
        used += (size_t)snprintf(text + used, size - used, "%s%.20s",
                                 i == 0      ? ""
                                 : i + 1 < n ? ", "
                                             : " and ",
                                 name[i]);
    gradin_format_fixed(more, sizeof more, g->adds_db, 1);
    snprintf(text + used, size - used, ", not stated. This may add up to %s dB%s", more,
             a->n_verdict[GRADIN_VERDICT_WITHIN] > 0
                 ? "; seats counted as within stay within even then"
                 : "");
}

static void draw_head(board *s, const gradin_layout_page *page) {
    const gradin_assessment *a = page->assessment;
    const gradin_model *m = a->model;
    const int *n = page->all.n_rating;
    char share[16];
    board_head head = {.lines = {"", "", ""}};
    snprintf(head.title, sizeof head.title, "%.280s", m->layout_name);
    snprintf(head.about, sizeof head.about,
             "%.160s \xC2\xB7 %s \xC2\xB7 %d seats, %d of them for wheelchairs, %d for companions",
             m->venue_name, gradin_form_name(m->form), m->seats.n_seat, m->seats.n_wheelchair,
             m->seats.n_companion);
    snprintf(head.lines[0], sizeof head.lines[0],
             "%s of the seats are rated clear or good: %d clear, %d good, %d fair, %d poor",
             board_percent((double)(n[0] + n[1]) / page->all.n_seat, share), n[0], n[1], n[2],
             n[3]);
    noise_line(a, head.lines[1], sizeof head.lines[1]);
    gaps_line(a, head.lines[2], sizeof head.lines[2]);
    board_draw_head(s, &head);
}

static void draw_main(board *s, const gradin_layout_page *page, gradin_box2 box) {
    const quantity q = quantity_of(page->assessment, GRADIN_MAP_RATING, GRADIN_MAP_SCALE_FITTED);
    const board_plan what = {&q, page, true};
    double width = box.x_max_m - box.x_min_m;
    bool feet = plan_is_imperial(q.model);
    board_part_title(s, box.x_min_m, box.y_min_m, width, q.title);
    double scale = board_draw_plans(s, &what,
                                    box_at(box.x_min_m, box.y_min_m + PART_HEAD, width,
                                           box.y_max_m - box.y_min_m - PART_HEAD - 52.0));
    if (!(scale > 0.0)) return;
    double bar = legend_draw_length(s->page, box.x_min_m + 6.0, box.y_max_m - 38.0, scale, feet);
    board_draw_classes(s, &page->all, box.x_min_m + bar + 70.0, box.y_max_m - 40.0,
                       width - bar - 70.0);
}

static void draw_small(board *s, const quantity *q, gradin_box2 box) {
    char title[160];
    double width = box.x_max_m - box.x_min_m;
    const board_plan what = {q, NULL, false};
    quantity_heading(q, title, sizeof title);
    board_part_title(s, box.x_min_m, box.y_min_m, width, title);
    board_draw_plans(s, &what,
                     box_at(box.x_min_m, box.y_min_m + PART_HEAD, width,
                            box.y_max_m - box.y_min_m - PART_HEAD - SMALL_FOOT));
    board_draw_scale(s, q, box.x_min_m + 12.0, box.y_max_m - SMALL_FOOT + 8.0, width - 60.0);
}

/* What is seen, how far it is and how loud; without noise C, where it can be had, else the turn. */
static int choose_small(const gradin_assessment *a, gradin_map map[3]) {
    static const gradin_map wanted[] = {GRADIN_MAP_VISIBLE, GRADIN_MAP_DISTANCE, GRADIN_MAP_LAMAX,
                                        GRADIN_MAP_C_VALUE, GRADIN_MAP_TURN};
    int n = 0;
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted && n < 3; i++)
        if (gradin_map_applies(a, wanted[i])) map[n++] = wanted[i];
    return n;
}

static void shorten(gradin_map map, quantity *q) {
    const char *title = map == GRADIN_MAP_VISIBLE    ? "Focus seen"
                        : map == GRADIN_MAP_DISTANCE ? "Distance to the focus"
                        : map == GRADIN_MAP_LAMAX    ? "Overflight, highest level"
                        : map == GRADIN_MAP_C_VALUE  ? "C-value"
                                                     : "Head turn";
    snprintf(q->title, sizeof q->title, "%s", title);
}

static void draw_plans(board *s, const gradin_layout_page *page, double height) {
    gradin_map map[3];
    double width = MAIN_SHARE * A3_INNER, left = A3_MARGIN + width + GAP;
    int n = choose_small(page->assessment, map);
    double each = (A3_WIDTH - A3_MARGIN - left - 2.0 * GAP) / 3.0;
    draw_main(s, page, box_at(A3_MARGIN, TOP, width, height));
    for (int i = 0; i < n; i++) {
        quantity q = quantity_of(page->assessment, map[i], GRADIN_MAP_SCALE_FITTED);
        shorten(map[i], &q);
        quantity_step_limits(&q);
        draw_small(s, &q, box_at(left + i * (each + GAP), TOP, each, height));
    }
}

typedef struct heights {
    double plans, cuts, tables;
} heights;

/* The tables take what their lines need, the sections what their length asks for, the plans the
 * rest as far as it makes them larger; what is then left makes the sections larger. */
static heights share_out(const gradin_layout_page *page) {
    heights h = {.tables = board_layout_tables_height(page)};
    double free = BOTTOM - TOP - h.tables;
    h.cuts = fmin(board_cuts_height(page, A3_INNER) + GAP, free - LEAST_PLANS);
    h.plans = fmin(free - h.cuts, MOST_PLANS);
    h.cuts = free - h.plans;
    return h;
}

void board_draw_layout(board *s, const gradin_layout_page *page) {
    const gradin_assessment *a = page->assessment;
    const heights h = share_out(page);
    char noise[TEXT_CHARS] = "";
    if (a->has_noise)
        doubt_text(a->systematic.median, a->noise.uncertainty.scatter_db, noise, sizeof noise);
    draw_head(s, page);
    draw_plans(s, page, h.plans);
    board_draw_cuts(s, page, box_at(A3_MARGIN, TOP + h.plans + GAP, A3_INNER, h.cuts - GAP));
    board_draw_layout_tables(s, page, BOTTOM - h.tables, BOTTOM);
    board_draw_foot(s, noise, a->model->digest);
}
