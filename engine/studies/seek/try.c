/* One place tried, once. */
#include "studies/seek/seek.h"

#include <string.h>

bool seek_is_over(const seek_job *job) {
    return job->status != GRADIN_OK || job->n >= job->n_most;
}

static int find_point(const seek_job *job, const seek_place *place) {
    size_t size = (size_t)job->n_axis * sizeof place->at[0];
    for (int i = job->n - 1; i >= 0; i--)
        if (memcmp(job->place[i].at, place->at, size) == 0) return i;
    return -1;
}

int seek_try(seek_job *job, const seek_place *place) {
    int found = find_point(job, place), point = job->n;
    if (found >= 0 || seek_is_over(job)) return found;
    for (int k = 0; k < job->n_axis; k++) {
        const char *value = seek_value(job, k, place->at[k]);
        if (!value) {
            job->status = gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "out of memory");
            return -1;
        }
        job->study->chosen[point * job->n_axis + k] = value;
    }
    job->place[point] = *place;
    job->status = job->try_point(job->user, point, job->error);
    if (job->status != GRADIN_OK) return -1;
    return job->n++;
}
