/* Plans of one sheet differ by their seats, shades and texts: the rest is drawn once. */
#include "render/maps/easel.h"

#include "base/arena.h"
#include "render/maps/outlook_page.h"
#include "render/maps/seats.h"

#include <string.h>

gradin_status easel_open(easel *e, gradin_error *error) {
    *e = (easel){.arena = gradin_arena_create(), .scratch = gradin_arena_create()};
    if (e->arena && e->scratch) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
}

static void close_canvases(easel *e) {
    if (e->is_open) canvas_close(&e->page);
    if (e->has_layers) canvas_close(&e->below);
    if (e->has_layers) canvas_close(&e->above);
    e->is_open = e->has_layers = e->is_used = false;
    e->model = NULL;
}

void easel_close(easel *e) {
    close_canvases(e);
    gradin_arena_destroy(e->arena);
    gradin_arena_destroy(e->scratch);
}

static gradin_status open_canvases(easel *e, const view *v, gradin_picture format,
                                   gradin_error *error) {
    close_canvases(e);
    arena_reset(e->arena);
    e->is_open = true;
    gradin_status status =
        canvas_open_as(&e->page, e->arena, format, PAGE_WIDTH, v->page_height, v->zoom, error);
    if (status != GRADIN_OK || format != GRADIN_PICTURE_PNG) return status;
    e->has_layers = true;
    e->above = (canvas){.zoom = 1.0};
    status = layer_open(&e->below, e->arena, &e->page, v->plan_bottom, error);
    if (status != GRADIN_OK) return status;
    return layer_open(&e->above, e->arena, &e->page, v->plan_bottom, error);
}

static void draw_below(const plan *p) {
    plan_draw_ground(p);
    seats_draw_others(p->page, p->v, &p->model->seats, p->sheet);
}

static void draw_above(const plan *p, const quantity *q) {
    seats_take(p->grid, p->v, &p->model->seats, p->sheet);
    seats_draw_lines(p->page, p->v, &p->model->seats, p->sheet);
    plan_draw_structure(p);
    plan_take_facade(p);
    plan_take_flight(p); /* also where it is not drawn: names stand alike on all maps */
    if (q->outlook) plan_draw_outside(p, q->outlook->outside);
    plan_name_focus(p);
    plan_draw_names(p);
}

static plan plan_on(easel *e, canvas *page, const quantity *q) {
    return (plan){page, &e->v, q->model, &e->grid, e->sheet, q->shades, NULL};
}

static bool is_shown(const easel *e, const view *v, const quantity *q, int sheet) {
    return e->model == q->model && e->sheet == sheet && e->outlook == q->outlook &&
           memcmp(&e->v, v, sizeof *v) == 0;
}

static gradin_status draw_layers(easel *e, const quantity *q, gradin_error *error) {
    plan p = plan_on(e, &e->below, q);
    e->model = NULL;
    layer_wipe(&e->below, true);
    if (e->is_used) layer_wipe(&e->above, false);
    e->is_used = true;
    draw_below(&p);
    p.page = &e->above;
    draw_above(&p, q);
    gradin_status status = canvas_status(&e->below, error);
    if (status == GRADIN_OK) status = canvas_status(&e->above, error);
    if (status == GRADIN_OK) status = layer_find_drawn(&e->above, e->arena, &e->drawn, error);
    if (status == GRADIN_OK) e->model = q->model;
    return status;
}

static bool is_same_page(const easel *e, const view *v, gradin_picture format) {
    return e->is_open && format == GRADIN_PICTURE_PNG && e->has_layers &&
           e->v.page_height == v->page_height && e->v.plan_bottom == v->plan_bottom &&
           e->v.zoom == v->zoom;
}

gradin_status easel_begin(easel *e, const view *v, const quantity *q, int sheet,
                          gradin_error *error) {
    bool was_shown = is_shown(e, v, q, sheet);
    gradin_status status = GRADIN_OK;
    arena_reset(e->scratch);
    if (!is_same_page(e, v, q->format)) {
        was_shown = false;
        status = open_canvases(e, v, q->format, error);
    }
    e->v = *v;
    e->sheet = sheet;
    e->outlook = q->outlook;
    if (status == GRADIN_OK && !was_shown) status = labels_open(&e->grid, e->scratch, v, error);
    if (status == GRADIN_OK && !was_shown && e->has_layers) status = draw_layers(e, q, error);
    if (status != GRADIN_OK) return status;
    if (e->has_layers) {
        layer_copy(&e->page, &e->below);
        return GRADIN_OK;
    }
    plan p = plan_on(e, &e->page, q);
    draw_below(&p);
    return GRADIN_OK;
}

void easel_end(easel *e, const quantity *q) {
    plan p = plan_on(e, &e->page, q);
    if (e->has_layers)
        layer_over(&e->page, &e->above, &e->drawn);
    else
        draw_above(&p, q);
    plan_draw_facade(&p);
    if (q->pass) plan_draw_flight(&p);
}
