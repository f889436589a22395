/* Seating towers of a scheme. Those that face the focus are seated in order of how far their people
 * turn to it, each at the lowest hoist from which its front row sees the near edge of the focus
 * over the heads of the banks by the wanted C, clear of everything solid and within the interlocks.
 * Towers in the way fly as high as they go; the others stay parked. */
#include "studies/draft/draft.h"

static const double MOST_TURN_DEG = 60.0;             /* common practice, no source */
static const double MOST_ASIDE_DEG = 95.0;            /* off the stage's axis, where it has one */
static const double LEAST_C_M = -0.3;                 /* a tower that sees less is left */
static const double ALIKE_DEG = 0.5;                  /* towers that turn alike go together */
static const double HEADROOM_M = 2.1, SEATED_M = 1.5; /* over a bank, over the top row */
enum { N_SAMPLE = 96, MAX_TOWER = 256 };

static gradin_vec2 focus_middle_m(const draft_job *job) {
    return (gradin_vec2){(job->focus_box.x_min_m + job->focus_box.x_max_m) / 2.0,
                         (job->focus_box.y_min_m + job->focus_box.y_max_m) / 2.0};
}

static bool binds(const gradin_interlock *rule, int machine) {
    for (int i = 0; i < rule->n_mover; i++)
        if (rule->mover[i] == machine) return true;
    for (int i = 0; i < rule->n_holder; i++)
        if (rule->holder[i] == machine) return true;
    return false;
}

static bool is_broken(const gradin_interlock *rule, const gradin_setting *set) {
    for (int i = 0; i < rule->n_mover; i++)
        for (int k = 0; k < rule->n_holder; k++)
            if (gradin_setting_touches(&set[rule->mover[i]], rule->at) &&
                !gradin_setting_is_within(&set[rule->holder[k]], rule->within))
                return true;
    return false;
}

/* Does a setting break an interlock that binds this machine? */
static bool breaks_interlock(const draft_job *job, const gradin_setting *setting, int machine) {
    for (int i = 0; i < job->hall->n_interlock; i++) {
        const gradin_interlock *rule = &job->hall->interlock[i];
        if (rule->has_at && binds(rule, machine) && is_broken(rule, setting)) return true;
    }
    return false;
}

static double bottom_m(const gradin_tower *t) {
    return t->level[0].deck_m - t->level[0].thickness_m;
}

static double top_m(const gradin_tower *t) {
    const gradin_tower_level *l = &t->level[t->n_level - 1];
    return l->deck_m + (l->n_row - 1) * l->riser_m;
}

/* Highest tread under the box; -INFINITY off the lifts. */
static double lifts_under_m(const draft_job *job, const draft_scheme *scheme, gradin_box2 box) {
    double high_m = -INFINITY;
    for (int k = 0; k < job->hall->n_grid; k++) {
        const gradin_lift_grid *g = &job->hall->grid[k];
        draft_cells c = draft_cells_under(g, box);
        for (int row = c.r0; row < c.r1; row++)
            for (int column = c.c0; column < c.c1; column++) {
                const gradin_setting *s =
                    &scheme->setting[draft_section_machine(job->hall, k, column, row)];
                high_m = fmax(high_m, s->position + (s->n_step - 1) * s->riser_m);
            }
    }
    return high_m;
}

static bool meets_bank(const draft_job *job, const draft_scheme *scheme, gradin_box2 box) {
    for (int i = 0; i < scheme->n_bank; i++) {
        const draft_bank *bank = &scheme->bank[i];
        if (!draft_boxes_meet(box, draft_bank_box(job, bank))) continue;
        for (int rank = 0; rank < bank->n_rank; rank++)
            if (draft_boxes_meet(box, draft_rank_box(job, bank, rank))) return true;
    }
    return false;
}

static bool meets_fixed(const draft_job *job, gradin_box2 box, double low_m, double high_m) {
    gradin_vec2 corner_m[4];
    draft_box_corners(box, corner_m);
    gradin_polygon shape = {corner_m, 4};
    for (int i = 0; i < 4; i++)
        if (!gradin_polygon_contains(job->hall->footprint, corner_m[i])) return true;
    for (int i = 0; i < job->hall->n_solid; i++)
        if (job->hall->solid[i].bottom_m < high_m && job->hall->solid[i].top_m > low_m &&
            gradin_polygon_overlap(shape, job->hall->solid[i].polygon, 0.01))
            return true;
    if (!job->w->has_arch) return false;
    gradin_vec2 arch_m[4];
    draft_arch_corners(job->hall, arch_m);
    return gradin_polygon_overlap(shape, (gradin_polygon){arch_m, 4}, 0.01);
}

static bool meets_tower(const draft_job *job, const draft_scheme *scheme, int index,
                        gradin_box2 box, double low_m, double high_m) {
    for (int i = 0; i < index; i++) { /* those already set */
        const gradin_tower *t = &job->hall->tower[i];
        double hoist_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, i)].position;
        double slide_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, i)].position;
        if (t->n_level > 0 && bottom_m(t) + hoist_m < high_m && top_m(t) + hoist_m > low_m &&
            draft_boxes_meet(box, draft_tower_box(t, slide_m)))
            return true;
    }
    return false;
}

/* May the tower stand there, as set in the scheme? */
static bool can_stand(const draft_job *job, const draft_scheme *scheme, int index, bool seated) {
    const gradin_tower *t = &job->hall->tower[index];
    double hoist_m =
        scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, index)].position;
    gradin_box2 box = draft_tower_box(
        t, scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, index)].position);
    double low_m = bottom_m(t) + hoist_m, high_m = top_m(t) + hoist_m;
    double head_m = meets_bank(job, scheme, box) ? HEADROOM_M : 0.02;
    return low_m >= lifts_under_m(job, scheme, box) + head_m &&
           high_m + (seated ? SEATED_M : 0.0) <= job->hall->ceiling_m &&
           !meets_fixed(job, box, low_m, high_m) &&
           !meets_tower(job, scheme, index, box, low_m, high_m) &&
           !breaks_interlock(job, scheme->setting,
                             gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, index)) &&
           !breaks_interlock(job, scheme->setting,
                             gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, index));
}

/* Tread of a bank under a plan point; -INFINITY beside the banks. */
static double tread_m(const draft_job *job, const draft_scheme *scheme, gradin_vec2 at_m) {
    for (int i = 0; i < scheme->n_bank; i++) {
        const draft_bank *bank = &scheme->bank[i];
        for (int rank = 0; rank < bank->n_rank; rank++) {
            gradin_box2 b = draft_rank_box(job, bank, rank);
            if (at_m.x < b.x_min_m || at_m.x > b.x_max_m || at_m.y < b.y_min_m ||
                at_m.y > b.y_max_m)
                continue;
            const double behind_m[4] = {b.y_max_m - at_m.y, b.x_max_m - at_m.x, at_m.y - b.y_min_m,
                                        at_m.x - b.x_min_m};
            int n_step = bank->is_front && rank == 0 ? 1 : bank->n_step;
            double deep_m = rank == 0 ? draft_first_m(bank) : bank->rank_m;
            int tread = (int)(behind_m[bank->quarter] / deep_m * n_step);
            if (tread > n_step - 1) tread = n_step - 1;
            return bank->height_m[rank] + tread * bank->riser_m[rank];
        }
    }
    return -INFINITY;
}

/* Where the front row of the lowest level sits. */
static gradin_vec2 front_eye_m(const gradin_tower *t, double slide_m) {
    gradin_vec2 way = gradin_bearing_unit(t->slide_bearing_deg);
    gradin_vec2 ahead = gradin_bearing_unit(t->facing_deg);
    double back_m = t->level[0].front_m + t->level[0].row_depth_m / 2.0;
    return (gradin_vec2){t->front_m.x + way.x * slide_m - ahead.x * back_m,
                         t->front_m.y + way.y * slide_m - ahead.y * back_m};
}

static gradin_vec2 near_focus_m(const draft_job *job, gradin_vec2 eye_m) {
    gradin_vec2 corner_m[4];
    draft_box_corners(job->focus_box, corner_m);
    return gradin_polygon_nearest_m((gradin_polygon){corner_m, 4}, eye_m, NULL);
}

/* Treads of the banks on the way from the front row to the near edge of the focus [N_SAMPLE]. */
static void find_treads(const draft_job *job, const draft_scheme *scheme, gradin_vec2 eye_m,
                        double *tread_at_m) {
    gradin_vec2 near_m = near_focus_m(job, eye_m);
    for (int i = 1; i < N_SAMPLE; i++) {
        double t = (double)i / N_SAMPLE;
        gradin_vec2 at_m = {eye_m.x + t * (near_m.x - eye_m.x), eye_m.y + t * (near_m.y - eye_m.y)};
        tread_at_m[i] = tread_m(job, scheme, at_m);
    }
}

/* Least C of the front row over the heads of people on those treads. */
static double c_over_banks_m(const draft_job *job, const double *tread_at_m, double eye_z_m) {
    double least_m = INFINITY;
    for (int i = 1; i < N_SAMPLE; i++) {
        double t = (double)i / N_SAMPLE;
        double head_m = tread_at_m[i] + job->w->audience.eye_height_m;
        least_m = fmin(least_m, eye_z_m + t * (job->focus_z_m - eye_z_m) - head_m);
    }
    return least_m;
}

/* Least C of the tower's rows over its own rows in front, with its front row at this distance. */
static double c_of_rows_m(const draft_job *job, const gradin_tower *t, double hoist_m, double d_m) {
    double least_m = INFINITY;
    for (int i = 0; i < t->n_level; i++) {
        const gradin_tower_level *l = &t->level[i];
        double r_m = l->deck_m + hoist_m + job->w->audience.eye_height_m - job->focus_z_m;
        for (int row = 1; row < l->n_row; row++)
            least_m = fmin(least_m, gradin_c_value_m(d_m + (row - 1) * l->row_depth_m,
                                                     r_m + (row - 1) * l->riser_m, l->riser_m,
                                                     l->row_depth_m));
    }
    return least_m;
}

/* Sets the hoist with the best least C; of equal ones, and of those that reach the wanted C, the
 * lowest. Tried every ten steps of the draft. False when the tower cannot stand at any. */
static bool seat_tower(const draft_job *job, draft_scheme *scheme, int index) {
    const gradin_tower *t = &job->hall->tower[index];
    gradin_setting *hoist =
        &scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, index)];
    double step_m = 10.0 * job->step_m, best_m = -INFINITY, best_at_m = 0.0;
    gradin_vec2 eye_m = front_eye_m(
        t, scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, index)].position);
    gradin_vec2 near_m = near_focus_m(job, eye_m);
    double d_m = fmax(hypot(near_m.x - eye_m.x, near_m.y - eye_m.y), 0.1), tread_at_m[N_SAMPLE];
    find_treads(job, scheme, eye_m, tread_at_m);
    for (int i = (int)ceil(t->hoist_m[0] / step_m - 1e-6); i * step_m <= t->hoist_m[1] + 1e-9;
         i++) {
        hoist->position = i * step_m;
        if (!can_stand(job, scheme, index, true)) continue;
        double eye_z_m = t->level[0].deck_m + i * step_m + job->w->audience.eye_height_m;
        double c_m =
            fmin(c_over_banks_m(job, tread_at_m, eye_z_m), c_of_rows_m(job, t, i * step_m, d_m));
        c_m = fmin(c_m, job->w->c_m);
        if (c_m <= best_m + 1e-9) continue;
        best_m = c_m;
        best_at_m = hoist->position;
    }
    hoist->position = best_at_m;
    return best_m > LEAST_C_M;
}

/* Would people sit beyond the back of what is looked at? */
static bool reaches_behind(const draft_job *job, int index) {
    gradin_box2 b = draft_tower_box(&job->hall->tower[index], 0.0), f = job->focus_box;
    const double behind_m[4] = {f.y_min_m - b.y_min_m, f.x_min_m - b.x_min_m, b.y_max_m - f.y_max_m,
                                b.x_max_m - f.x_max_m};
    return behind_m[job->quarter] > 0.02;
}

/* INFINITY for one that does not face the focus. */
static double turn_deg(const draft_job *job, int index) {
    const gradin_tower *t = &job->hall->tower[index];
    gradin_vec2 focus_m = focus_middle_m(job);
    double dx = focus_m.x - t->front_m.x, dy = focus_m.y - t->front_m.y;
    double turn = gradin_bearing_gap_deg(gradin_bearing_deg(dx, dy), t->facing_deg);
    bool has_axis = job->w->form != GRADIN_FORM_ROUND && job->w->form != GRADIN_FORM_TRAVERSE;
    double aside = gradin_bearing_gap_deg(gradin_bearing_deg(-dx, -dy), 90.0 * job->quarter);
    bool is_behind = has_axis && reaches_behind(job, index);
    bool faces = turn <= MOST_TURN_DEG && (!has_axis || aside <= MOST_ASIDE_DEG) && !is_behind;
    return faces && t->n_level > 0 && job->w->use_tower[index] ? turn : INFINITY;
}

/* The next tower to seat: least turn, then the order of the venue. */
static int next_tower(const draft_job *job, const bool *is_done) {
    int best = -1;
    double best_deg = INFINITY;
    for (int i = 0; i < job->hall->n_tower; i++) {
        double deg = is_done[i] ? INFINITY : turn_deg(job, i);
        if (deg >= best_deg - 1e-6) continue;
        best = i;
        best_deg = deg;
    }
    return best;
}

static int seats_of(const gradin_tower *t) {
    int n = 0;
    for (int i = 0; i < t->n_level; i++)
        n += t->level[i].n_row * gradin_tower_row_seats(t, &t->level[i]);
    return n;
}

/* Leaves it parked, or flies it as high as it goes: away from the stage, the banks and raised
 * lifts. */
static void clear_tower(const draft_job *job, draft_scheme *scheme, int index) {
    const gradin_tower *t = &job->hall->tower[index];
    gradin_setting *hoist =
        &scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, index)];
    gradin_box2 box = draft_tower_box(
        t, scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, index)].position);
    hoist->position = fmin(fmax(0.0, t->hoist_m[0]), t->hoist_m[1]);
    bool is_over =
        isfinite(lifts_under_m(job, scheme, box)) || draft_boxes_meet(box, job->stage_box);
    if (t->n_level == 0 || (!is_over && can_stand(job, scheme, index, false))) return;
    for (double at_m = t->hoist_m[1]; at_m > t->hoist_m[0]; at_m -= 10.0 * job->step_m) {
        hoist->position = at_m;
        scheme->tower[index].is_flown = true;
        if (can_stand(job, scheme, index, false)) return;
    }
}

static bool take_tower(const draft_job *job, draft_scheme *scheme, int index) {
    bool sits = seat_tower(job, scheme, index);
    if (sits)
        scheme->tower[index] =
            (draft_tower){.is_seated = true, .n_seat = seats_of(&job->hall->tower[index])};
    else
        clear_tower(job, scheme, index);
    return sits;
}

/* Leaves out towers whose mirror image is not seated, where there is one to seat. */
static bool keep_pairs(const draft_job *job, draft_scheme *scheme, int n, int before) {
    int n_seated = 0;
    for (int i = 0; i < n; i++) {
        int other = draft_mirror_tower(job, i);
        bool is_asked = other >= 0 && other < n && job->w->use_tower[other];
        if (scheme->tower[i].is_seated && is_asked && !scheme->tower[other].is_seated) {
            scheme->tower[i] = (draft_tower){0};
            clear_tower(job, scheme, i);
        }
        n_seated += scheme->tower[i].is_seated;
    }
    return n_seated > before;
}

static int count_seated(const draft_scheme *scheme, int n) {
    int n_seated = 0;
    for (int i = 0; i < n; i++) n_seated += scheme->tower[i].is_seated;
    return n_seated;
}

/* Groups of towers that turn alike, until there are as many as chosen. */
static void seat_towers(const draft_job *job, draft_scheme *scheme, int n) {
    bool is_done[MAX_TOWER] = {false};
    int n_group = 0;
    for (int first = next_tower(job, is_done); first >= 0 && n_group < scheme->choice.towers;
         first = next_tower(job, is_done)) {
        bool any = false;
        is_done[first] = true;
        int before = count_seated(scheme, n);
        double least_deg = turn_deg(job, first);
        for (int i = 0; i < n; i++) {
            bool is_group = job->w->is_symmetric && turn_deg(job, i) <= least_deg + ALIKE_DEG;
            if (i != first && (is_done[i] || !is_group)) continue;
            is_done[i] = true;
            any |= take_tower(job, scheme, i);
        }
        if (job->w->is_symmetric) any = keep_pairs(job, scheme, n, before);
        n_group += any;
    }
}

void draft_set_towers(const draft_job *job, draft_scheme *scheme) {
    int n = job->hall->n_tower < MAX_TOWER ? job->hall->n_tower : MAX_TOWER;
    for (int i = 0; i < n; i++) scheme->tower[i] = (draft_tower){0};
    for (int i = 0; i < n; i++) clear_tower(job, scheme, i);
    seat_towers(job, scheme, n);
    for (int i = 0; i < n; i++) {
        scheme->tower[i].hoist_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, i)].position;
        scheme->tower[i].slide_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, i)].position;
    }
}
