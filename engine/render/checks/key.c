/* Beside the plan of the rough checks: what its marks mean, and what was found. */
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "render/checks/marks.h"
#include "render/maps/legend.h"
#include "render/maps/seats.h"
#include "render/plan/plan.h"

#include <stdarg.h>
#include <stdio.h>

#define SAMPLE 64.0
#define ROW 33.0
#define COLUMN_WIDTH 420.0

typedef struct key {
    canvas *page;
    double top, x;
    int n;
} key;

static gradin_vec2 next_entry(key *k, const char *text) {
    double y = k->top + 44.0 + ROW * k->n++;
    text_style style = {.size = 17.5, .ink = COLOUR_INK};
    canvas_text_within(k->page, style, k->x + SAMPLE + 14.0, y + 6.0, COLUMN_WIDTH - SAMPLE - 24.0,
                       13.0, text);
    return (gradin_vec2){k->x + 0.5 * SAMPLE, y};
}

static void add_line(key *k, const char *text,
                     void (*stroke)(canvas *, gradin_vec2, gradin_vec2, bool), bool flag) {
    gradin_vec2 at = next_entry(k, text);
    stroke(k->page, (gradin_vec2){at.x - 0.5 * SAMPLE, at.y},
           (gradin_vec2){at.x + 0.5 * SAMPLE, at.y}, flag);
}

static void add_seat(key *k, const char *text, double grey, bool is_marked) {
    seat_mark mark = {.centre = next_entry(k, text),
                      .width = 34.0,
                      .depth = 26.0,
                      .fill = {grey, grey, grey},
                      .is_marked = is_marked,
                      .text = ""};
    seat_draw(k->page, &mark);
}

static void rail_between(canvas *page, gradin_vec2 a, gradin_vec2 b, bool flag) {
    (void)flag;
    plan_rail_line(page, (gradin_vec2[]){a, b}, 2);
}

/* What a way is held against, whether the venue states it or not. */
static void add_narrow(key *k, const gradin_fit *fit) {
    char text[2 * LENGTH_CHARS + 64], least[LENGTH_CHARS], chair[LENGTH_CHARS];
    const gradin_routes *r = fit->routes;
    length_unit unit = length_unit_of(fit->model->units);
    length_text(least, r->wanted_m, unit);
    if (r->wheelchair_wanted_m == r->wanted_m)
        snprintf(text, sizeof text, "narrower than %s: its clear width", least);
    else
        snprintf(text, sizeof text, "narrower than %s (wheelchairs %s): clear width", least,
                 length_text(chair, r->wheelchair_wanted_m, unit));
    marks_narrow(k->page, next_entry(k, text));
}

static void draw_symbols(key *k, const gradin_fit *fit) {
    add_line(k, "way out of a row, from its longest", marks_route_line, false);
    add_line(k, "way without steps, from a wheelchair place", marks_route_line, true);
    marks_exit(k->page, next_entry(k, "exit with free width"), (gradin_vec2){1.0, 0.0}, true);
    marks_exit(k->page, next_entry(k, "exit that does not count"), (gradin_vec2){1.0, 0.0}, false);
    add_narrow(k, fit);
    marks_dead_end(k->page, next_entry(k, "aisle ends here: length back to a way"));
    k->x += COLUMN_WIDTH;
    k->n = 0;
    add_line(k, "rail", rail_between, false);
    add_line(k, "open edge without a rail", marks_edge_line, false);
    add_line(k, "open edge of the stage", marks_edge_line, true);
    gradin_vec2 at = next_entry(k, "lift section over its load limit");
    cairo_new_path(k->page->cr);
    cairo_rectangle(k->page->cr, at.x - 0.5 * SAMPLE, at.y - 11.0, SAMPLE, 22.0);
    marks_overload_path(k->page);
    add_seat(k, "place with a way out", 1.0, false);
    add_seat(k, "place without one, or over a rule (slash)", 0.55, true);
    add_seat(k, "place not looked at", 0.84, false);
}

typedef struct lines {
    canvas *page;
    const gradin_fit *fit;
    double y;
} lines;

static void put(lines *l, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void put(lines *l, const char *format, ...) {
    char text[TEXT_CHARS];
    va_list list;
    va_start(list, format);
    plain_print_list(text, sizeof text, format, list);
    va_end(list);
    text_style style = {.size = 18.0, .ink = COLOUR_INK};
    canvas_text_within(l->page, style, PAGE_MARGIN, l->y, LEGEND_SPLIT - PAGE_MARGIN - 30.0, 12.0,
                       text);
    l->y += 29.0;
}

static char *shown(const lines *l, double length_m, char text[LENGTH_CHARS]) {
    return length_text(text, length_m, length_unit_of(l->fit->model->units));
}

/* ", at most 45.00 m", or that no rule is stated. */
static const char *rule(const lines *l, const char *bound, double rule_m, char text[64]) {
    char length[LENGTH_CHARS];
    if (rule_m > 0.0)
        snprintf(text, 64, "%s %.40s", bound, shown(l, rule_m, length));
    else
        snprintf(text, 64, "no rule stated");
    return text;
}

static void put_ways(lines *l, const char *whose, int n, int n_without, int longest, int narrowest,
                     double least_m) {
    const gradin_routes *r = l->fit->routes;
    const gradin_local_rules *rules = &l->fit->model->machinery->rules;
    char text[64], length[LENGTH_CHARS];
    if (n == 0) return;
    put(l, "%s: %d of %d have no way out", whose, n_without, n);
    if (longest < 0) return;
    put(l, "     longest %s from %.60s (%s)", shown(l, r->route[longest].length_m, length),
        r->route[longest].from_seat, rule(l, "at most", rules->travel_m, text));
    put(l, "     narrowest %s from %.60s (%s)", shown(l, r->route[narrowest].width_m, length),
        r->route[narrowest].first_seat, rule(l, "at least", least_m, text));
}

static void put_found(lines *l) {
    const gradin_fit *fit = l->fit;
    const gradin_routes *r = fit->routes;
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    char text[64], length[LENGTH_CHARS];
    put_ways(l, "Rows", r->n_row, r->n_row_without, r->longest, r->narrowest, rules->way_width_m);
    put_ways(l, "Places for wheelchairs, without steps", r->n_wheelchair, r->n_wheelchair_without,
             r->longest_wheelchair, r->narrowest_wheelchair, rules->wheelchair_way_m);
    put(l, "Ends of aisles at which no way leads on: %d (%s)", r->n_dead_end,
        rule(l, "at most", rules->dead_end_m, text));
    put(l, "Exits: %d of %d free, clear width %s", fit->n_exit - fit->n_exit_blocked, fit->n_exit,
        shown(l, fit->exit_m, length));
    for (int i = 0; i < fit->n_exit_blocked && i < 2; i++)
        put(l, "     %.40s: %.120s", fit->exit[i].name, fit->exit[i].reason);
    put(l, "Open edges without a rail: %d, and %d of the stage", fit->n_edge - fit->n_stage_edge,
        fit->n_stage_edge);
    put(l, "Loads over their stated limits: %d%s%.60s", fit->n_overload,
        fit->n_overload > 0 ? ", the first " : "",
        fit->n_overload > 0 ? fit->overload[0].where : "");
}

void key_draw(canvas *page, const view *v, const gradin_fit *fit) {
    text_style heading = {.size = 21.0, .is_bold = true, .ink = COLOUR_INK};
    lines l = {page, fit, v->legend_top + 46.0};
    key k = {page, v->legend_top, LEGEND_SPLIT, 0};
    canvas_text(page, heading, PAGE_MARGIN, v->legend_top + 12.0, "Found");
    canvas_text(page, heading, LEGEND_SPLIT, v->legend_top + 12.0, "Marks");
    put_found(&l);
    draw_symbols(&k, fit);
}
