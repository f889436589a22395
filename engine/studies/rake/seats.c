/* The block's seats while a setting is sought: their C is that of the assessment, over the real
 * persons ahead of them. Seats of other blocks on the same lifts move with the treads. */
#include "studies/rake/rake.h"

#include <string.h>

static bool copy_heights(rake_job *job, rake_seats *s) {
    const gradin_seats *from = &job->model->seats;
    size_t n = (size_t)from->n_seat;
    s->raised = *job->model;
    gradin_vec3 *eye_m = gradin_arena_alloc(job->arena, n, sizeof *eye_m);
    gradin_vec3 *floor_m = gradin_arena_alloc(job->arena, n, sizeof *floor_m);
    if (!eye_m || !floor_m) return false;
    memcpy(eye_m, from->eye_m, n * sizeof *eye_m);
    memcpy(floor_m, from->floor_m, n * sizeof *floor_m);
    s->raised.seats.eye_m = eye_m;
    s->raised.seats.floor_m = floor_m;
    return true;
}

static void list_rows(const rake_job *job, rake_seats *s) {
    const gradin_seats *from = &job->model->seats;
    int n = 0;
    for (int k = 0; k < job->rake->n_row; k++) {
        s->first[k] = n;
        for (int i = 0; i < from->n_seat; i++)
            if (from->block[i] == job->rake->block && from->row[i] == job->rake->row[k].row)
                s->seat[n++] = i;
    }
    s->first[job->rake->n_row] = n;
}

static int rank_of_section(const gradin_rake *rake, int section) {
    for (int r = 0; r < rake->n_rank; r++)
        for (int i = 0; i < rake->rank[r].n_section; i++)
            if (rake->rank[r].section[i] == section) return r;
    return -1;
}

static void list_riders(const rake_job *job, rake_seats *s) {
    const gradin_seats *from = &job->model->seats;
    for (int i = 0; i < from->n_seat; i++) {
        int r = from->block[i] == job->rake->block || from->section[i] < 0
                    ? -1
                    : rank_of_section(job->rake, from->section[i]);
        if (r < 0) continue;
        const gradin_rake_rank *rank = &job->rake->rank[r];
        const gradin_section *section = &job->model->section[from->section[i]];
        int tread = rake_tread_at(section, rank->n_step, rank->facing_deg, from->floor_m[i]);
        s->rider[s->n_rider++] = (rake_rider){i, r, tread};
    }
}

gradin_status rake_take_seats(rake_job *job) {
    size_t n = (size_t)job->model->seats.n_seat;
    rake_seats *s = gradin_arena_alloc(job->arena, 1, sizeof *s);
    if (s) {
        s->seat = gradin_arena_alloc(job->arena, n, sizeof *s->seat);
        s->c_m = gradin_arena_alloc(job->arena, n, sizeof *s->c_m);
        s->rider = gradin_arena_alloc(job->arena, n, sizeof *s->rider);
        s->first = gradin_arena_alloc(job->arena, GRADIN_MAX_RAKE_ROW + 1, sizeof *s->first);
    }
    if (!s || !s->seat || !s->c_m || !s->rider || !s->first || !copy_heights(job, s))
        return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
    list_rows(job, s);
    list_riders(job, s);
    job->seats = s;
    return GRADIN_OK;
}

static void raise(rake_seats *s, int seat, double floor_m) {
    gradin_seats *seats = &s->raised.seats;
    seats->eye_m[seat].z += floor_m - seats->floor_m[seat].z;
    seats->floor_m[seat].z = floor_m;
}

void rake_raise_rows(rake_job *job, int first, int last) {
    rake_seats *s = job->seats;
    if (!s) return;
    for (int k = first; k < last; k++)
        for (int i = s->first[k]; i < s->first[k + 1]; i++)
            raise(s, s->seat[i], job->rake->row[k].floor_m);
    int r = job->rake->row[first].rank;
    const gradin_rake_rank *rank = &job->rake->rank[r];
    for (int i = 0; i < s->n_rider; i++)
        if (s->rider[i].rank == r)
            raise(s, s->rider[i].seat,
                  rank->height_m + (rank->n_step > 1 ? s->rider[i].tread * rank->riser_m : 0.0));
}

double rake_seats_c_m(rake_job *job, int k, int *seat) {
    rake_seats *s = job->seats;
    int n = s->first[k + 1] - s->first[k];
    double least_m = INFINITY;
    *seat = -1;
    gradin_status status =
        gradin_c_of_seats(&s->raised, s->seat + s->first[k], n, s->c_m, job->error);
    if (status != GRADIN_OK && job->failed == GRADIN_OK) job->failed = status;
    for (int i = 0; status == GRADIN_OK && i < n; i++) {
        if (!(s->c_m[i] < least_m)) continue;
        least_m = s->c_m[i];
        *seat = s->seat[s->first[k] + i];
    }
    return least_m;
}
