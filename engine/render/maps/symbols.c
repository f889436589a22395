/* The symbols that this map shows, each drawn by the code that draws it on the plan. */
#include "render/maps/legend.h"
#include "render/maps/seats.h"

#include <stdio.h>

#define COLUMN_WIDTH 424.0
#define ROW 33.0
#define N_ROW 12    /* two columns hold all symbols that exist */
#define SAMPLE 64.0 /* width of the sample */

typedef struct list {
    canvas *page;
    double top;
    int n; /* entries written */
} list;

/* Middle of the next entry's sample; its text is written beside it. */
static gradin_vec2 next_entry(list *l, const char *text) {
    double x = LEGEND_SPLIT + COLUMN_WIDTH * (l->n / N_ROW);
    double y = l->top + 42.0 + ROW * (l->n % N_ROW);
    text_style style = {.size = 17.5, .ink = COLOUR_INK};
    canvas_text_within(l->page, style, x + SAMPLE + 14.0, y + 6.0, COLUMN_WIDTH - SAMPLE - 24.0,
                       14.0, text);
    l->n++;
    return (gradin_vec2){x + 0.5 * SAMPLE, y};
}

static void box_path(list *l, gradin_vec2 centre) {
    cairo_new_path(l->page->cr);
    cairo_rectangle(l->page->cr, centre.x - 0.5 * SAMPLE, centre.y - 11.0, SAMPLE, 22.0);
}

typedef struct seat_kinds {
    bool wheelchair, companion, marked, near, same, none, others;
} seat_kinds;

static seat_kinds kinds_shown(const quantity *q, int sheet) {
    seat_kinds shown = {0};
    const gradin_seats *seats = &q->model->seats;
    for (int i = 0; i < seats->n_seat; i++) {
        if (seats->sheet[i] != sheet) {
            shown.others = true;
            continue;
        }
        shown.wheelchair |= seats->kind[i] == GRADIN_SEAT_WHEELCHAIR;
        shown.companion |= seats->kind[i] == GRADIN_SEAT_COMPANION;
        shown.marked |= quantity_is_marked(q, i);
        shown.near |= quantity_is_near(q, i);
        shown.same |= quantity_is_same(q, i);
        shown.none |= quantity_class(q, i) < 0;
    }
    return shown;
}

static void add_seat(list *l, seat_mark mark, const char *text) {
    mark.centre = next_entry(l, text);
    mark.width = 34.0;
    mark.depth = 30.0;
    seat_draw(l->page, &mark);
}

/* Of the scale at a place from poor to good; the rating has the colours of its classes. */
static colour sample_fill(const quantity *q, double quality) {
    if (!q->value) return colour_at(quality);
    return quantity_colour_along(q, q->is_high_good || q->is_difference ? quality : 1.0 - quality);
}

static void add_row_number(list *l) {
    gradin_vec2 at = next_entry(l, "number of a row, beside its first seat");
    text_style style = {.size = 13.0, .align = TEXT_CENTRE, .ink = COLOUR_QUIET};
    canvas_text(l->page, style, at.x, at.y + 5.0, "3");
}

static void add_seats(list *l, const quantity *q, int sheet) {
    seat_kinds shown = kinds_shown(q, sheet);
    colour good = sample_fill(q, 0.75), poor = sample_fill(q, 0.08);
    const char *value = q->value ? "" : quantity_class_mark(GRADIN_RATING_GOOD);
    const char *worse = q->mark_text ? q->mark_text
                        : q->limit   ? "worse than fair (slash)"
                        : q->value   ? "over the limit (slash)"
                                     : "poor (slash)";
    add_seat(l, (seat_mark){.fill = good, .text = value}, "seat; the rounded side is its back");
    if (shown.marked) add_seat(l, (seat_mark){.fill = poor, .text = "", .is_marked = true}, worse);
    if (shown.near)
        add_seat(l, (seat_mark){.fill = good, .text = "", .is_near = true},
                 "too near to tell (corner)");
    if (shown.same)
        add_seat(l, (seat_mark){.fill = COLOUR_WHITE, .text = "="},
                 "no difference that can be told (=)");
    if (shown.wheelchair)
        add_seat(l, (seat_mark){.fill = good, .text = "", .kind = GRADIN_SEAT_WHEELCHAIR},
                 "wheelchair place (double border)");
    if (shown.companion)
        add_seat(l, (seat_mark){.fill = good, .text = "", .kind = GRADIN_SEAT_COMPANION},
                 "companion's place (dot)");
    if (shown.none)
        add_seat(l, (seat_mark){.fill = COLOUR_WHITE, .text = "\xE2\x80\x93"},
                 q->none_text ? q->none_text : "does not apply");
    if (shown.others) add_seat(l, (seat_mark){.text = NULL}, "place on another sheet");
    add_row_number(l);
}

static void add_path(list *l, void (*finish)(canvas *page), const char *text) {
    box_path(l, next_entry(l, text));
    finish(l->page);
}

static bool has_solid(const gradin_model *model, gradin_solid_kind kind, int sheet) {
    for (int i = 0; i < model->n_solid; i++)
        if (model->solid[i].kind == kind && plan_on_sheet(model->solid[i].sheet, sheet))
            return true;
    return false;
}

static void add_solids(list *l, const gradin_model *model, int sheet) {
    static const char *const name[] = {"column",
                                       "edge of a deck, soffit or header",
                                       "inner wall",
                                       "set piece",
                                       "outline of a model",
                                       "panel of the arch"};
    for (int kind = GRADIN_SOLID_COLUMN; kind <= (int)GRADIN_SOLID_ARCH; kind++) {
        if (!has_solid(model, (gradin_solid_kind)kind, sheet)) continue;
        gradin_vec2 at = next_entry(l, name[kind]);
        double half = kind == GRADIN_SOLID_COLUMN ? 9.0 : 0.5 * SAMPLE;
        double height = kind == GRADIN_SOLID_WALL ? 8.0 : 18.0;
        cairo_new_path(l->page->cr);
        cairo_rectangle(l->page->cr, at.x - half, at.y - 0.5 * height, 2.0 * half, height);
        plan_solid_path(l->page, (gradin_solid_kind)kind);
    }
}

static bool has_rail(const gradin_model *model, int sheet) {
    for (int i = 0; i < model->n_rail; i++)
        if (plan_on_sheet(model->rail[i].sheet, sheet)) return true;
    return false;
}

static bool has_height(const gradin_model *model) {
    for (int i = 0; i < model->n_section; i++)
        if (fabs(model->section[i].machine->setting.position) >= 0.005 ||
            model->section[i].machine->setting.n_step > 1)
            return true;
    return false;
}

static void add_section(list *l, const gradin_model *model) {
    bool feet = plan_is_imperial(model);
    gradin_vec2 at = next_entry(l, !has_height(model) ? "lift section, level with the floor"
                                   : feet             ? "lift section: height of its treads, ft"
                                                      : "lift section: height of its treads, m");
    box_path(l, at);
    plan_section_path(l->page);
    if (!has_height(model)) return;
    text_style style = {.size = 12.0, .align = TEXT_CENTRE, .ink = {0.46, 0.46, 0.49}};
    canvas_text(l->page, style, at.x, at.y + 4.5, feet ? "2.0" : "0.60");
}

static bool has_aisle(const gradin_model *model, int sheet) {
    for (int i = 0; i < model->n_aisle; i++)
        if (plan_on_sheet(model->aisle_sheet[i], sheet)) return true;
    return false;
}

static bool has_focus(const gradin_model *model, gradin_focus_kind kind) {
    for (int i = 0; i < model->n_focus; i++)
        if (model->focus[i].kind == kind) return true;
    return false;
}

static void add_room(list *l, const gradin_model *model, int sheet) {
    if (has_focus(model, GRADIN_FOCUS_FLOOR)) add_path(l, plan_focus_path, "focus area");
    if (has_focus(model, GRADIN_FOCUS_UPRIGHT)) {
        gradin_vec2 at = next_entry(l, "upright to be seen, such as a screen");
        plan_upright_line(l->page, (gradin_vec2){at.x - 0.5 * SAMPLE, at.y},
                          (gradin_vec2){at.x + 0.5 * SAMPLE, at.y});
    }
    if (has_focus(model, GRADIN_FOCUS_POINT))
        plan_point_mark(l->page, next_entry(l, "point to be seen"));
    if (isfinite(model->axis_deg)) {
        gradin_vec2 at = next_entry(l, "stage axis, the way the stage faces");
        plan_axis_line(l->page, (gradin_vec2){at.x - 0.5 * SAMPLE, at.y},
                       (gradin_vec2){at.x + 0.5 * SAMPLE, at.y});
    }
    if (model->n_section > 0) add_section(l, model);
    if (model->n_floor > 0) {
        gradin_vec2 at = next_entry(l, "floor that is not at 0; the arrow points up");
        box_path(l, at);
        plan_floor_path(l->page);
        plan_slope_arrow(l->page, (gradin_vec2){at.x - 0.36 * SAMPLE, at.y},
                         (gradin_vec2){at.x + 0.36 * SAMPLE, at.y});
    }
    if (has_aisle(model, sheet)) add_path(l, plan_aisle_path, "aisle");
    if (model->n_vomitory > 0) add_path(l, plan_vomitory_path, "vomitory");
    add_solids(l, model, sheet);
    if (!has_rail(model, sheet)) return;
    gradin_vec2 at = next_entry(l, "rail");
    gradin_vec2 ends[2] = {{at.x - 0.5 * SAMPLE, at.y}, {at.x + 0.5 * SAMPLE, at.y}};
    plan_rail_line(l->page, ends, 2);
}

static bool has_element(const gradin_model *model, gradin_element_kind kind, bool with_shade) {
    for (int i = 0; i < model->n_element; i++)
        if (model->element[i].kind == kind && (!with_shade || model->element[i].shade >= 0))
            return true;
    return false;
}

static void add_panes(list *l, const gradin_model *model) {
    gradin_vec2 at = next_entry(l, "glazing");
    plan_pane_line(l->page, (gradin_vec2){at.x - 0.5 * SAMPLE, at.y},
                   (gradin_vec2){at.x + 0.5 * SAMPLE, at.y}, 0.0);
    if (!has_element(model, GRADIN_ELEMENT_PANE, true)) return;
    at = next_entry(l, "hatched: the share of it that is shaded");
    plan_pane_line(l->page, (gradin_vec2){at.x - 0.5 * SAMPLE, at.y},
                   (gradin_vec2){at.x + 0.5 * SAMPLE, at.y}, 0.6);
}

static void add_facade(list *l, const gradin_model *model) {
    if (has_element(model, GRADIN_ELEMENT_PANE, false)) add_panes(l, model);
    if (has_element(model, GRADIN_ELEMENT_DOOR, false)) {
        gradin_vec2 at = next_entry(l, "door");
        plan_door_line(l->page, (gradin_vec2){at.x - 22.0, at.y}, (gradin_vec2){at.x + 22.0, at.y},
                       (gradin_vec2){0.0, -1.0}, 0.0);
    }
    if (has_element(model, GRADIN_ELEMENT_VENT, false))
        plan_vent_mark(l->page, next_entry(l, "vent or other small opening"));
}

static void add_flight(list *l, const gradin_pass *pass, bool feet) {
    char altitude[24], bearing[16], text[160];
    gradin_format_fixed(altitude, sizeof altitude,
                        feet ? pass->point_m.z / GRADIN_FOOT_M : pass->point_m.z, 0);
    gradin_format_fixed(bearing, sizeof bearing, gradin_wrap_360_deg(pass->bearing_deg), 0);
    snprintf(text, sizeof text, "overflight on %s\xC2\xB0, %s %s up", bearing, altitude,
             feet ? "ft" : "m");
    gradin_vec2 at = next_entry(l, text), unit = gradin_bearing_unit(pass->bearing_deg);
    canvas_arrow(l->page, (gradin_vec2){at.x - 16.0 * unit.x, at.y + 16.0 * unit.y},
                 (gradin_vec2){at.x + 16.0 * unit.x, at.y - 16.0 * unit.y}, COLOUR_INK, 3.0);
}

void legend_draw_symbols(canvas *page, const view *v, const quantity *q, int sheet) {
    const gradin_model *model = q->model;
    list l = {page, v->legend_top, 0};
    text_style heading = {.size = 21.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text(page, heading, LEGEND_SPLIT, v->legend_top + 14.0, "Symbols");
    add_seats(&l, q, sheet);
    if (q->pass) add_flight(&l, q->pass, plan_is_imperial(model));
    add_room(&l, model, sheet);
    add_facade(&l, model);
}
