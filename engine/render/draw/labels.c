/* Greedy placing on a grid of 4 units: candidates by distance from the wanted spot. */
#include "render/draw/labels.h"

static const double cell = 4.0;
static const double far = 36.0; /* that a label moves so as to stand off a thin line */
static const double cells_reach =
    2.0; /* what is taken covers whole cells: so far beyond its edge */
static const double turned_costs = 1.5; /* a level spot may be so much further away */
enum { TAKEN = 1, SHUNNED = 2, KEPT = 4 };

gradin_status labels_open(label_grid *grid, gradin_arena *arena, const view *v,
                          gradin_error *error) {
    return labels_open_box(grid, arena, (gradin_box2){0.0, PLAN_TOP, PAGE_WIDTH, v->plan_bottom},
                           error);
}

gradin_status labels_open_box(label_grid *grid, gradin_arena *arena, gradin_box2 box,
                              gradin_error *error) {
    *grid = (label_grid){.left = box.x_min_m, .top = box.y_min_m};
    grid->columns = (int)((box.x_max_m - box.x_min_m) / cell) + 1;
    grid->rows = (int)((box.y_max_m - box.y_min_m) / cell) + 1;
    grid->taken = gradin_arena_alloc(arena, (size_t)grid->rows, (size_t)grid->columns);
    if (grid->taken) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
}

static unsigned char *cell_at(label_grid *grid, double x, double y) {
    double column = floor((x - grid->left) / cell), row = floor((y - grid->top) / cell);
    if (!(column >= 0.0 && column < grid->columns && row >= 0.0 && row < grid->rows)) return NULL;
    return grid->taken + (size_t)row * (size_t)grid->columns + (size_t)column;
}

static void note(label_grid *grid, gradin_vec2 centre, double half_right, double half_forward,
                 double facing_deg, unsigned char as) {
    gradin_vec2 forward = gradin_bearing_unit(facing_deg);
    int n_right = (int)ceil(half_right / 1.5), n_forward = (int)ceil(half_forward / 1.5);
    for (int i = -n_right; i <= n_right; i++)
        for (int j = -n_forward; j <= n_forward; j++) {
            double right = half_right * i / fmax(n_right, 1);
            double ahead = half_forward * j / fmax(n_forward, 1);
            unsigned char *at = cell_at(grid, centre.x + right * forward.y + ahead * forward.x,
                                        centre.y + right * forward.x - ahead * forward.y);
            if (at) *at |= as;
        }
}

void labels_take(label_grid *grid, gradin_vec2 centre, double half_right, double half_forward,
                 double facing_deg) {
    note(grid, centre, half_right, half_forward, facing_deg, TAKEN);
}

void labels_keep_off(label_grid *grid, gradin_box2 box) {
    gradin_vec2 middle = {0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
    note(grid, middle, 0.5 * (box.x_max_m - box.x_min_m), 0.5 * (box.y_max_m - box.y_min_m), 0.0,
         KEPT);
}

void labels_release(label_grid *grid) {
    for (int i = 0; i < grid->rows * grid->columns; i++) grid->taken[i] &= (unsigned char)~KEPT;
}

void labels_shun_line(label_grid *grid, gradin_vec2 a, gradin_vec2 b) {
    gradin_vec2 middle = {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    note(grid, middle, 1.5, 0.5 * hypot(b.x - a.x, b.y - a.y),
         gradin_bearing_deg(b.x - a.x, a.y - b.y), SHUNNED);
}

void labels_take_line(label_grid *grid, gradin_vec2 a, gradin_vec2 b, double half_width) {
    gradin_vec2 middle = {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    labels_take(grid, middle, half_width, 0.5 * hypot(b.x - a.x, b.y - a.y),
                gradin_bearing_deg(b.x - a.x, a.y - b.y));
}

/* Is every cell under a box of these half sizes there, and not one to be kept off? */
static bool is_free(const label_grid *grid, gradin_vec2 centre, double half_w, double half_h,
                    unsigned char kept_off) {
    int first = (int)floor((centre.x - half_w - grid->left) / cell);
    int last = (int)floor((centre.x + half_w - grid->left) / cell);
    int top = (int)floor((centre.y - half_h - grid->top) / cell);
    int bottom = (int)floor((centre.y + half_h - grid->top) / cell);
    if (first < 0 || top < 0 || last >= grid->columns || bottom >= grid->rows) return false;
    for (int row = top; row <= bottom; row++) {
        const unsigned char *at = grid->taken + (size_t)row * (size_t)grid->columns;
        for (int column = first; column <= last; column++)
            if (at[column] & kept_off) return false;
    }
    return true;
}

/* The free centre nearest to `wanted` for a box of these half sizes inside `within`. */
static bool find_off(label_grid *grid, gradin_box2 within, gradin_vec2 wanted, double half_w,
                     double half_h, unsigned char kept_off, gradin_vec2 *spot) {
    double best_sq = INFINITY;
    for (double y = within.y_min_m + half_h; y <= within.y_max_m - half_h; y += cell) {
        double down_sq = (y - wanted.y) * (y - wanted.y);
        if (down_sq >= best_sq) continue;
        for (double x = within.x_min_m + half_w; x <= within.x_max_m - half_w; x += cell) {
            double sq = (x - wanted.x) * (x - wanted.x) + down_sq;
            if (sq >= best_sq || !is_free(grid, (gradin_vec2){x, y}, half_w, half_h, kept_off))
                continue;
            best_sq = sq;
            *spot = (gradin_vec2){x, y};
        }
    }
    return best_sq < INFINITY;
}

/* Off thin lines, unless that leads too far. */
static bool find_spot(label_grid *grid, gradin_box2 within, gradin_vec2 wanted, double half_w,
                      double half_h, gradin_vec2 *spot) {
    gradin_vec2 clean;
    if (!find_off(grid, within, wanted, half_w, half_h, TAKEN | KEPT, spot)) return false;
    if (is_free(grid, *spot, half_w, half_h, SHUNNED)) return true;
    if (!find_off(grid, within, wanted, half_w, half_h, TAKEN | KEPT | SHUNNED, &clean))
        return true;
    double near = hypot(spot->x - wanted.x, spot->y - wanted.y);
    if (hypot(clean.x - wanted.x, clean.y - wanted.y) <= near + far) *spot = clean;
    return true;
}

static void write_level(label_grid *grid, canvas *page, text_style style, gradin_vec2 spot,
                        double half_length, const char *text) {
    canvas_text(page, style, spot.x, spot.y + 0.36 * style.size, text);
    labels_take(grid, spot, half_length, 0.5 * style.size, 0.0);
}

static void write_turned(label_grid *grid, canvas *page, text_style style, gradin_vec2 spot,
                         double half_length, const char *text) {
    style.turn_rad = -0.5 * GRADIN_PI;
    canvas_text(page, style, spot.x + 0.36 * style.size, spot.y, text);
    labels_take(grid, spot, 0.5 * style.size, half_length, 0.0);
}

bool labels_put(label_grid *grid, canvas *page, text_style style, gradin_box2 within,
                gradin_vec2 wanted, bool may_turn, const char *text) {
    double half_length = 0.5 * canvas_text_width(page, style, text) + 2.0;
    double half_height = 0.5 * style.size;
    gradin_vec2 spot;
    style.align = TEXT_CENTRE;
    if (find_spot(grid, within, wanted, half_length, half_height, &spot)) {
        write_level(grid, page, style, spot, half_length, text);
        return true;
    }
    if (!may_turn || !find_spot(grid, within, wanted, half_height, half_length, &spot))
        return false;
    write_turned(grid, page, style, spot, half_length, text);
    return true;
}

bool labels_put_off_lines(label_grid *grid, canvas *page, text_style style, gradin_box2 within,
                          gradin_vec2 wanted, const char *text) {
    const unsigned char off = TAKEN | KEPT | SHUNNED;
    double half_length = 0.5 * canvas_text_width(page, style, text) + 2.0;
    double half_height = 0.5 * style.size;
    gradin_vec2 level, turned;
    style.align = TEXT_CENTRE;
    bool is_level = find_off(grid, within, wanted, half_length, half_height, off, &level);
    bool is_turned = find_off(grid, within, wanted, half_height, half_length, off, &turned);
    if (is_level && is_turned)
        is_level = hypot(level.x - wanted.x, level.y - wanted.y) <=
                   turned_costs * hypot(turned.x - wanted.x, turned.y - wanted.y);
    if (is_level)
        write_level(grid, page, style, level, half_length, text);
    else if (is_turned)
        write_turned(grid, page, style, turned, half_length, text);
    return is_level || is_turned;
}

bool labels_put_at(label_grid *grid, canvas *page, text_style style, gradin_vec2 spot,
                   const char *text) {
    double half_w = 0.5 * canvas_text_width(page, style, text), half_h = 0.5 * style.size;
    if (!is_free(grid, spot, fmax(half_w - cells_reach, 0.0), fmax(half_h - 2.0 * cells_reach, 0.0),
                 TAKEN))
        return false;
    style.align = TEXT_CENTRE;
    canvas_text(page, style, spot.x, spot.y + 0.36 * style.size, text);
    labels_take(grid, spot, half_w, half_h, 0.0);
    return true;
}

/* From the mark's rim to the nearer side of the text. */
static void lead(canvas *page, text_style style, gradin_vec2 mark, double half_mark,
                 gradin_vec2 spot, double half_length) {
    double x = fmax(spot.x - half_length, fmin(mark.x, spot.x + half_length));
    double y = spot.y + (mark.y > spot.y ? 0.5 : -0.5) * style.size;
    double apart = hypot(x - mark.x, y - mark.y);
    if (apart < half_mark + style.size) return;
    double rim = half_mark / apart;
    canvas_line(page, (gradin_vec2){mark.x + rim * (x - mark.x), mark.y + rim * (y - mark.y)},
                (gradin_vec2){x, y}, style.ink, 1.2);
}

bool labels_put_led(label_grid *grid, canvas *page, text_style style, gradin_vec2 mark,
                    double half_mark, double reach, const char *text) {
    double half_length = 0.5 * canvas_text_width(page, style, text) + 2.0;
    gradin_box2 within = {mark.x - reach, mark.y - reach, mark.x + reach, mark.y + reach};
    gradin_vec2 spot;
    style.align = TEXT_CENTRE;
    if (!find_spot(grid, within, mark, half_length, 0.5 * style.size, &spot)) return false;
    lead(page, style, mark, half_mark, spot, half_length);
    canvas_text(page, style, spot.x, spot.y + 0.36 * style.size, text);
    labels_take(grid, spot, half_length, 0.5 * style.size, 0.0);
    return true;
}
