/* The rows of a block in its section: the vertical plane through the middle seat of its first row,
 * along that seat's facing. Each row stands for itself by the seat nearest to the plane. Rows that
 * share a lift section form one rank: its sections are set alike, its treads rise evenly. */
#include "studies/rake/rake.h"

#include <string.h>

const gradin_place RAKE_BLOCK = {.key = "--block"};

#define EQUAL_M 1e-6
#define MOST_TURN_DEG 45.0 /* a seat turned by more is in no arc of this row */

static gradin_status refuse(const rake_job *job, const char *text) {
    return gradin_error_add(job->error, GRADIN_BAD_INPUT, &RAKE_BLOCK, "'%s' %s",
                            job->rake->wanted.block, text);
}

typedef struct section_plane {
    gradin_vec2 origin, unit; /* the first row's eye on plan, and its facing */
    double facing_deg;
    double focus_m; /* from the origin to the line to which C is measured */
} section_plane;

static bool is_of(const rake_job *job, int seat) {
    return job->model->seats.block[seat] == job->rake->block;
}

static int first_row_middle(const rake_job *job) {
    const gradin_seats *s = &job->model->seats;
    int first = INT32_MAX, n = 0, middle = -1;
    for (int i = 0; i < s->n_seat; i++)
        if (is_of(job, i) && s->row[i] < first) first = s->row[i];
    for (int i = 0; i < s->n_seat; i++) n += is_of(job, i) && s->row[i] == first;
    for (int i = 0, k = 0; i < s->n_seat; i++)
        if (is_of(job, i) && s->row[i] == first && k++ == n / 2) middle = i;
    return middle;
}

static gradin_status find_plane(rake_job *job, section_plane *plane) {
    const gradin_model *m = job->model;
    int seat = first_row_middle(job);
    if (seat < 0) return refuse(job, "has no seat");
    plane->origin = (gradin_vec2){m->seats.eye_m[seat].x, m->seats.eye_m[seat].y};
    plane->facing_deg = m->seats.facing_deg[seat];
    plane->unit = gradin_bearing_unit(plane->facing_deg);
    gradin_c_point point;
    if (!gradin_c_line_nearest(m, plane->origin, &point))
        return refuse(job, "has nothing to measure C to: no focus area is a floor, and the layout "
                           "states no c_line");
    if (!gradin_c_line_meet(m, plane->origin, plane->unit, &point))
        return refuse(job,
                      m->c_line ? "does not face the layout's c_line" : "does not face the focus");
    plane->focus_m = point.ahead_m;
    job->rake->focus_z_m = point.at_m.z;
    if (plane->focus_m < EQUAL_M) return refuse(job, "stands over the focus");
    return GRADIN_OK;
}

/* The row's seat nearest to the plane, the lower index when two are as near; -1 when the block has
 * no such row. */
static int row_seat(const rake_job *job, const section_plane *plane, int row) {
    const gradin_seats *s = &job->model->seats;
    int best = -1;
    double best_m = INFINITY;
    for (int i = 0; i < s->n_seat; i++) {
        if (!is_of(job, i) || s->row[i] != row) continue;
        double dx = s->eye_m[i].x - plane->origin.x, dy = s->eye_m[i].y - plane->origin.y;
        double aside_m = fabs(dx * plane->unit.y - dy * plane->unit.x);
        if (aside_m > best_m - EQUAL_M) continue;
        best = i;
        best_m = aside_m;
    }
    return best;
}

/* Where the row of a seat crosses the plane. A seat beside the plane that is turned by t
 * from the plane's bearing belongs to an arc about a point of the plane: the crossing lies aside *
 * tan(t/2) behind the seat. In a straight row t is 0. */
static double crossing_m(const gradin_seats *s, const section_plane *plane, int seat) {
    double dx = s->eye_m[seat].x - plane->origin.x, dy = s->eye_m[seat].y - plane->origin.y;
    double ahead_m = dx * plane->unit.x + dy * plane->unit.y;
    double right_m = dx * plane->unit.y - dy * plane->unit.x;
    double turn_deg = gradin_wrap_360_deg(s->facing_deg[seat] - plane->facing_deg + 180.0) - 180.0;
    if (fabs(turn_deg) > MOST_TURN_DEG) turn_deg = 0.0;
    return plane->focus_m - ahead_m - right_m * tan(gradin_rad(0.5 * turn_deg));
}

static void add_row(rake_job *job, const section_plane *plane, int row, int seat) {
    const gradin_seats *s = &job->model->seats;
    gradin_rake *rake = job->rake;
    double d_m = crossing_m(s, plane, seat);
    int k = rake->n_row++;
    rake->row[k] = (gradin_rake_row){
        .row = row,
        .row_label = s->row_label ? s->row_label[seat] : NULL,
        .d_m = d_m,
        .t_m = k > 0 ? d_m - rake->row[k - 1].d_m : NAN,
        .eye_height_m = s->eye_m[seat].z - s->floor_m[seat].z,
        .floor_before_m = s->floor_m[seat].z,
        .floor_m = s->floor_m[seat].z,
    };
}

static int last_row(const rake_job *job) {
    int last = 0;
    for (int i = 0; i < job->model->seats.n_seat; i++)
        if (is_of(job, i) && job->model->seats.row[i] > last) last = job->model->seats.row[i];
    return last;
}

static double depth_m(const gradin_section *s, gradin_vec2 unit) {
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < 4; i++) {
        double along = s->corner_m[i].x * unit.x + s->corner_m[i].y * unit.y;
        low = fmin(low, along);
        high = fmax(high, along);
    }
    return high - low;
}

int rake_tread_at(const gradin_section *s, int n_step, double facing_deg, gradin_vec3 at) {
    gradin_vec2 unit = gradin_bearing_unit(facing_deg);
    double front = -INFINITY;
    for (int i = 0; i < 4; i++)
        front = fmax(front, s->corner_m[i].x * unit.x + s->corner_m[i].y * unit.y);
    double behind = front - (at.x * unit.x + at.y * unit.y);
    int tread = (int)floor(behind / (depth_m(s, unit) / n_step));
    return tread < 0 ? 0 : tread >= n_step ? n_step - 1 : tread;
}

/* As the layout terraces it. A flat one that carries several rows gets as many treads as it can
 * make, if it can face the same way as the block. */
static void choose_treads(const gradin_section *s, int n_row, double facing_deg,
                          gradin_rake_rank *rank) {
    const gradin_setting *set = &s->machine->setting;
    int quarter = gradin_grid_quarter(s->grid->bearing_deg, facing_deg);
    bool can = quarter >= 0 && s->grid->faces[quarter];
    rank->n_step = set->n_step > 1 ? set->n_step : can ? s->grid->most_steps : 1;
    if (set->n_step == 1 && rank->n_step > n_row) rank->n_step = n_row;
    rank->facing_deg = set->n_step > 1 ? set->facing_deg : facing_deg;
    rank->riser_m = set->n_step > 1 ? set->riser_m : 0.0;
    rank->height_m = set->position;
}

/* Rank of each section that carries the row; all of them must agree. -1: not yet ranked, -2: two
 * ranks. */
static int rank_of_row(const rake_job *job, const int *rank_of, int row) {
    const gradin_seats *s = &job->model->seats;
    int found = -1;
    for (int i = 0; i < s->n_seat; i++) {
        if (!is_of(job, i) || s->row[i] != row) continue;
        int rank = rank_of[s->section[i]];
        if (rank >= 0 && found >= 0 && rank != found) return -2;
        if (rank >= 0) found = rank;
    }
    return found;
}

static bool list_sections(rake_job *job, const int *rank_of) {
    for (int r = 0; r < job->rake->n_rank; r++) {
        int *list = gradin_arena_alloc(job->arena, (size_t)job->model->n_section, sizeof *list);
        int n = 0;
        if (!list) return false;
        for (int i = 0; i < job->model->n_section; i++)
            if (rank_of[i] == r) list[n++] = i;
        job->rake->rank[r].section = list;
        job->rake->rank[r].n_section = n;
    }
    return true;
}

static void set_limits(rake_job *job, int r, const gradin_section *s) {
    job->limit[r] = (rake_limit){{s->machine->travel[0], s->machine->travel[1]},
                                 {s->grid->riser_m[0], s->grid->riser_m[1]}};
}

static gradin_status rank_rows(rake_job *job, int *rank_of) {
    const gradin_seats *s = &job->model->seats;
    gradin_rake *rake = job->rake;
    for (int k = 0; k < rake->n_row; k++) {
        int r = rank_of_row(job, rank_of, rake->row[k].row);
        if (r == -2) return refuse(job, "has a row on lift sections of two ranks");
        if (r < 0) r = rake->n_rank++;
        rake->row[k].rank = r;
        for (int i = 0; i < s->n_seat; i++)
            if (is_of(job, i) && s->row[i] == rake->row[k].row) rank_of[s->section[i]] = r;
    }
    return list_sections(job, rank_of)
               ? GRADIN_OK
               : gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
}

static void place_on_treads(rake_job *job, const section_plane *plane) {
    const gradin_seats *s = &job->model->seats;
    gradin_rake *rake = job->rake;
    for (int r = 0; r < rake->n_rank; r++) {
        const gradin_section *section = &job->model->section[rake->rank[r].section[0]];
        int n_row = 0;
        for (int k = 0; k < rake->n_row; k++) n_row += rake->row[k].rank == r;
        choose_treads(section, n_row, plane->facing_deg, &rake->rank[r]);
        set_limits(job, r, section);
    }
    for (int k = 0; k < rake->n_row; k++) {
        const gradin_rake_rank *rank = &rake->rank[rake->row[k].rank];
        int seat = row_seat(job, plane, rake->row[k].row);
        rake->row[k].tread = rake_tread_at(&job->model->section[s->section[seat]], rank->n_step,
                                           rank->facing_deg, s->floor_m[seat]);
    }
}

static gradin_status carry_by_lifts(rake_job *job, const section_plane *plane) {
    int n = job->model->n_section;
    int *rank_of = gradin_arena_alloc(job->arena, (size_t)n, sizeof *rank_of);
    if (!rank_of)
        return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
    for (int i = 0; i < n; i++) rank_of[i] = -1;
    gradin_status status = rank_rows(job, rank_of);
    if (status == GRADIN_OK) place_on_treads(job, plane);
    return status;
}

/* A platform row is free to stand at any height that a layout may state: 0 to 2 m above the row in
 * front. */
static void carry_by_platforms(rake_job *job) {
    gradin_rake *rake = job->rake;
    rake->n_rank = rake->n_row;
    for (int k = 0; k < rake->n_row; k++) {
        rake->row[k].rank = k;
        rake->rank[k] = (gradin_rake_rank){.n_step = 1, .height_m = rake->row[k].floor_m};
        job->limit[k] = (rake_limit){{-INFINITY, INFINITY}, {0.0, 2.0}};
    }
}

static gradin_status check_support(const rake_job *job, int *support) {
    const gradin_seats *s = &job->model->seats;
    bool is_first = true;
    for (int i = 0; i < s->n_seat; i++) {
        if (!is_of(job, i)) continue;
        int kind = s->section[i] < 0 ? s->section[i] : 0;
        if (kind == GRADIN_ON_DECK)
            return refuse(job, "stands on a tower, whose rows are fixed; name a block on the floor "
                               "or on lifts");
        if (!is_first && kind != *support) return refuse(job, "stands partly on lifts");
        *support = kind;
        is_first = false;
    }
    return GRADIN_OK;
}

gradin_status rake_read_rows(rake_job *job) {
    section_plane plane;
    int support = GRADIN_ON_FLOOR;
    gradin_status status = check_support(job, &support);
    if (status == GRADIN_OK) status = find_plane(job, &plane);
    if (status != GRADIN_OK) return status;
    for (int row = 0; row <= last_row(job); row++) {
        int seat = row_seat(job, &plane, row);
        if (seat < 0) continue;
        if (job->rake->n_row == GRADIN_MAX_RAKE_ROW) return refuse(job, "has over 200 rows");
        add_row(job, &plane, row, seat);
    }
    if (job->rake->n_row < 2) return refuse(job, "has one row; a rake needs two");
    for (int k = 1; k < job->rake->n_row; k++)
        if (!(job->rake->row[k].t_m > 0.1))
            return refuse(job, "has rows that do not follow each other away from the focus");
    if (support == 0) return carry_by_lifts(job, &plane);
    carry_by_platforms(job);
    return GRADIN_OK;
}
