/* A scheme as a layout of the venue. Lengths are whole tenths of a millimetre (or as fine in feet),
 * so that the file that is written from the layout states the very same figures. */
#include "studies/draft/draft.h"

#include <string.h>

static double tidy(double value, double unit, double parts) {
    return round(value / unit * parts) / parts * unit;
}

static double tidy_m(const draft_job *job, double length_m) {
    return tidy(length_m, job->w->unit_m, job->w->unit_m == 1.0 ? 1e4 : 1e9);
}

static double tidy_deg(double angle_deg) {
    return tidy(angle_deg, 1.0, 1e3);
}

static gradin_vec2 tidy_point(const draft_job *job, gradin_vec2 at_m) {
    return (gradin_vec2){tidy_m(job, at_m.x), tidy_m(job, at_m.y)};
}

static gradin_polygon tidy_polygon(const draft_job *job, const gradin_vec2 *corner_m, int n) {
    gradin_vec2 *made = gradin_arena_alloc(job->arena, (size_t)n, sizeof *made);
    for (int i = 0; made && i < n; i++) made[i] = tidy_point(job, corner_m[i]);
    return (gradin_polygon){made, n};
}

static gradin_polygon tidy_box(const draft_job *job, gradin_box2 box) {
    gradin_vec2 corner_m[4];
    draft_box_corners(box, corner_m);
    return tidy_polygon(job, corner_m, 4);
}

/* What a scheme sets; all else stays parked. */
static bool is_set(const draft_job *job, const gradin_machine *m) {
    bool is_arch = m->kind == GRADIN_MACHINE_TRIM || m->kind == GRADIN_MACHINE_OPENING;
    return is_arch ? job->w->has_arch
                   : m->kind != GRADIN_MACHINE_CURTAIN && m->kind != GRADIN_MACHINE_DOOR;
}

static void fill_machines(const draft_job *job, const draft_scheme *scheme, gradin_layout *p) {
    const gradin_venue *hall = job->hall;
    for (int i = 0; i < hall->n_machine; i++) {
        const gradin_setting *from = &scheme->setting[i];
        gradin_setting *to = &p->machine[i].set;
        bool is_length = gradin_machine_is_length(hall->machine[i].kind);
        if (!is_set(job, &hall->machine[i])) continue;
        *to = *from;
        to->position = is_length ? tidy_m(job, from->position) : tidy(from->position, 1.0, 1e3);
        to->riser_m = tidy_m(job, from->riser_m);
    }
    for (int i = 0; i < hall->n_tower; i++) p->is_seated[i] = scheme->tower[i].is_seated;
    p->is_arch_in = job->w->has_arch;
}

static gradin_block block(const draft_job *job, const char *name, gradin_row_kind rows,
                          double width_m, double depth_m) {
    gradin_block b = gradin_block_defaults();
    b.name = name;
    b.rows = rows;
    b.seat_width_m = tidy_m(job, width_m);
    b.row_depth_m = tidy_m(job, depth_m);
    for (int i = 0; i < job->hall->crew.n_seating; i++)
        if (job->w->seating && strcmp(job->hall->crew.seating[i].name, job->w->seating) == 0)
            b.seating = i;
    return b;
}

/* Rows on platforms, as high as the bank's ranks. */
static gradin_block platform_block(const draft_job *job, const draft_bank *bank) {
    gradin_block b =
        block(job, bank->name, GRADIN_ROWS_STRAIGHT, bank->seat_m, job->w->row_depth_m);
    gradin_box2 first = draft_rank_box(job, bank, bank->is_front);
    b.n_row = draft_bank_rows(bank);
    double *rise_m = gradin_arena_alloc(job->arena, (size_t)b.n_row, sizeof *rise_m);
    if (!rise_m) b.name = NULL;
    for (int i = 0; rise_m && i < b.n_row; i++)
        rise_m[i] = tidy_m(job, bank->height_m[i + bank->is_front]) -
                    (i > 0 ? tidy_m(job, bank->height_m[i + bank->is_front - 1]) : 0.0);
    for (int i = 0; rise_m && i < b.n_row; i++) rise_m[i] = tidy_m(job, rise_m[i]);
    b.rise_m = rise_m;
    b.front_m = tidy_point(job, (gradin_vec2){(first.x_min_m + first.x_max_m) / 2.0,
                                              (first.y_min_m + first.y_max_m) / 2.0});
    b.facing_deg = 90.0 * bank->quarter;
    b.n_seat = bank->per_section;
    return b;
}

static gradin_block bank_block(const draft_job *job, const draft_bank *bank) {
    if (job->main < 0) return platform_block(job, bank);
    draft_cells first = draft_rank_cells(bank, bank->is_front);
    draft_cells last = draft_rank_cells(bank, bank->n_rank - 1);
    double tread_m = bank->rank_m / bank->n_step, depth_m = job->w->row_depth_m;
    gradin_block b = block(job, bank->name, GRADIN_ROWS_FILL, bank->seat_m,
                           2.0 * depth_m > tread_m ? depth_m : tread_m); /* one row per tread */
    b.on = GRADIN_SUPPORT_LIFTS;
    b.from_section =
        gradin_section_index(job->hall, job->main, first.c0 < last.c0 ? first.c0 : last.c0,
                             first.r0 < last.r0 ? first.r0 : last.r0);
    b.to_section =
        gradin_section_index(job->hall, job->main, (first.c1 > last.c1 ? first.c1 : last.c1) - 1,
                             (first.r1 > last.r1 ? first.r1 : last.r1) - 1);
    if (bank->n_step == 1) b.facing_deg = 90.0 * bank->quarter;
    return b;
}

static gradin_block chairs_block(const draft_job *job, const draft_floor *f) {
    gradin_block b = block(job, "Chairs", f->is_curved ? GRADIN_ROWS_CURVED : GRADIN_ROWS_STRAIGHT,
                           job->w->seat_width_m, job->w->row_depth_m);
    b.front_m = tidy_point(job, f->front_m);
    b.n_row = f->n_row;
    int *n_seat = gradin_arena_alloc(job->arena, (size_t)f->n_row, sizeof *n_seat);
    if (!n_seat) b.name = NULL;
    for (int i = 0; n_seat && i < f->n_row; i++) n_seat[i] = draft_chairs_of_row(job, f, i);
    b.row_seat = n_seat;
    if (f->is_curved) {
        b.radius_m = tidy_m(job, f->radius_m);
        for (int i = 0; i < 2; i++) b.arc_deg[i] = tidy_deg(f->arc_deg[i]);
    } else {
        b.facing_deg = tidy_deg(f->facing_deg);
    }
    return b;
}

/* A pattern repeats along a row, so that of two places serves any row. */
static gradin_block places_block(const draft_job *job, const draft_wheelchair_row *row,
                                 int number) {
    gradin_block b = block(job, gradin_arena_print(job->arena, "Places %d", number),
                           GRADIN_ROWS_STRAIGHT, DRAFT_PLACE_WIDTH_M, DRAFT_PLACE_DEPTH_M);
    b.front_m = tidy_point(job, row->front_m);
    b.facing_deg = tidy_deg(row->facing_deg);
    b.n_row = 1;
    b.n_seat = row->n_place;
    b.n_pattern = 2;
    b.pattern[row->starts_with_companion] = GRADIN_SEAT_WHEELCHAIR;
    b.pattern[!row->starts_with_companion] = GRADIN_SEAT_COMPANION;
    return b;
}

static bool fill_blocks(const draft_job *job, const draft_scheme *scheme, gradin_layout *p) {
    int most = scheme->n_bank + 1 + scheme->n_wheelchair_row;
    gradin_block *b = gradin_arena_alloc(job->arena, (size_t)most, sizeof *b);
    if (!b) return false;
    p->block = b;
    for (int i = 0; i < scheme->n_bank; i++) {
        b[p->n_block] = bank_block(job, &scheme->bank[i]);
        if (!b[p->n_block++].name) return false;
    }
    if (scheme->floor.n_seat > 0) {
        b[p->n_block] = chairs_block(job, &scheme->floor);
        if (!b[p->n_block++].name) return false;
    }
    for (int i = 0; i < scheme->n_wheelchair_row; i++) {
        b[p->n_block] = places_block(job, &scheme->wheelchair_row[i], i + 1);
        if (!b[p->n_block++].name) return false;
    }
    return true;
}

static gradin_box2 walk_box(const draft_job *job, const draft_bank *bank) {
    return draft_front_box(job, bank, bank->n_walk * bank->rank_m / bank->n_step, 0.0);
}

static gradin_box2 aisle_box(const draft_job *job, const draft_bank *bank, int aisle) {
    gradin_box2 box = draft_rank_box(job, bank, bank->is_front);
    gradin_box2 last = draft_rank_box(job, bank, bank->n_rank - 1);
    const double *side_m = bank->aisle_m[aisle];
    gradin_box2 all = {fmin(box.x_min_m, last.x_min_m), fmin(box.y_min_m, last.y_min_m),
                       fmax(box.x_max_m, last.x_max_m), fmax(box.y_max_m, last.y_max_m)};
    if (bank->quarter % 2 == 0)
        return (gradin_box2){all.x_min_m + side_m[0], all.y_min_m, all.x_min_m + side_m[1],
                             all.y_max_m};
    return (gradin_box2){all.x_min_m, all.y_min_m + side_m[0], all.x_max_m,
                         all.y_min_m + side_m[1]};
}

static bool fill_aisles(const draft_job *job, const draft_scheme *scheme, gradin_layout *p) {
    gradin_area *a = gradin_arena_alloc(
        job->arena, (size_t)(scheme->n_bank + 1) * (DRAFT_MAX_AISLE + 1), sizeof *a);
    if (!a) return false;
    p->aisle = a;
    for (int i = 0; i < scheme->n_bank; i++)
        for (int k = 0; k < scheme->bank[i].n_aisle; k++)
            a[p->n_aisle++] = (gradin_area){
                .name = gradin_arena_print(job->arena, "%s aisle %d", scheme->bank[i].name, k + 1),
                .polygon = tidy_box(job, aisle_box(job, &scheme->bank[i], k))};
    for (int i = 0; i < scheme->n_bank; i++)
        if (scheme->bank[i].n_walk > 0)
            a[p->n_aisle++] = (gradin_area){
                .name = gradin_arena_print(job->arena, "%s front aisle", scheme->bank[i].name),
                .polygon = tidy_box(job, walk_box(job, &scheme->bank[i]))};
    for (int k = 0; k < scheme->floor.n_aisle; k++)
        a[p->n_aisle++] = (gradin_area){.name = gradin_arena_print(job->arena, "aisle %d", k + 1),
                                        .polygon = tidy_polygon(job, scheme->floor.aisle_m[k], 4)};
    for (int i = 0; i < p->n_aisle; i++)
        if (!a[i].name || !a[i].polygon.corner_m) return false;
    return true;
}

static bool fill_focus(const draft_job *job, gradin_layout *p) {
    gradin_focus *focus = gradin_arena_alloc(job->arena, 1, sizeof *focus);
    if (!focus) return false;
    *focus = gradin_focus_defaults();
    focus->name = "stage";
    focus->polygon = tidy_box(job, job->focus_box);
    focus->z_m = tidy_m(job, job->focus_z_m);
    p->focus = focus;
    p->n_focus = 1;
    return focus->polygon.corner_m != NULL;
}

/* Without lifts a raised stage is set up on the floor. */
static bool fill_stage(const draft_job *job, gradin_layout *p) {
    if (job->main >= 0 || job->w->stage_height_m <= 0.0) return true;
    gradin_solid *stage = gradin_arena_alloc(job->arena, 1, sizeof *stage);
    if (!stage) return false;
    *stage = (gradin_solid){.name = "stage",
                            .kind = GRADIN_SOLID_SET,
                            .polygon = tidy_box(job, job->stage_box),
                            .top_m = tidy_m(job, job->w->stage_height_m)};
    p->solid = stage;
    p->n_solid = 1;
    return stage->polygon.corner_m != NULL;
}

static void fill_head(const draft_job *job, gradin_layout *p) {
    const gradin_wishes *w = job->w;
    p->name = w->name;
    p->units = w->units;
    p->form = w->form;
    if (w->form == GRADIN_FORM_END_STAGE || w->form == GRADIN_FORM_FLAT_FLOOR)
        p->axis_deg = 90.0 * job->quarter;
    p->audience = w->audience;
    p->limits = w->limits;
    p->criterion = w->criterion;
    p->pass = w->pass;
}

gradin_status draft_make_layout(const draft_job *job, const draft_scheme *scheme,
                                gradin_layout *layout) {
    gradin_status status = gradin_layout_defaults(job->arena, job->hall, layout, job->error);
    if (status != GRADIN_OK) return status;
    fill_head(job, layout);
    fill_machines(job, scheme, layout);
    if (!fill_stage(job, layout) || !fill_focus(job, layout) || !fill_blocks(job, scheme, layout) ||
        !fill_aisles(job, scheme, layout))
        return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the draft");
    return GRADIN_OK;
}

bool draft_add_rails(const draft_job *job, const draft_rail *found, int n, gradin_layout *p) {
    gradin_rail_entry *rail = gradin_arena_alloc(job->arena, (size_t)n, sizeof *rail);
    if (!rail) return false;
    for (int i = 0; i < n; i++) {
        rail[i] = gradin_rail_entry_defaults();
        rail[i].name = found[i].name;
        rail[i].kind = GRADIN_RAIL_BAR;
        rail[i].point_m = tidy_polygon(job, found[i].point_m, found[i].n_point).corner_m;
        rail[i].n_point = found[i].n_point;
        rail[i].height_m = tidy_m(job, fmax(DRAFT_RAIL_M, job->hall->rail_min_m));
        rail[i].thickness_m = tidy_m(job, 0.04);
        rail[i].n_bar = 3;
        if (!rail[i].point_m) return false;
    }
    p->rail = rail;
    p->n_rail = n;
    return true;
}
