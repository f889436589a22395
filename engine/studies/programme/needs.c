/* What a show needs of its layout: seats and places for wheelchairs. */
#include "studies/programme/programme.h"

static int have(const gradin_model *m, gradin_clash what) {
    return what == GRADIN_CLASH_SEATS ? m->seats.n_seat : m->seats.n_wheelchair;
}

/* Keeps those of choice[*n] that have `least`; all of them, with a clash, when none has. */
static void keep(const gradin_model *model, gradin_clash what, int least, int *choice, int *n,
                 gradin_staging *s) {
    int n_kept = 0, kept[GRADIN_MAX_PROGRAMME_LAYOUT], most = 0;
    for (int i = 0; i < *n; i++) {
        int count = have(&model[choice[i]], what);
        most = count > most ? count : most;
        if (count >= least) kept[n_kept++] = choice[i];
    }
    if (n_kept == 0) {
        s->needs = what;
        s->most = most;
        return;
    }
    for (int i = 0; i < n_kept; i++) choice[i] = kept[i];
    *n = n_kept;
}

void programme_choices(const gradin_programme *p, const gradin_model *model, int show,
                       int choice[GRADIN_MAX_PROGRAMME_LAYOUT], int *n, gradin_staging *s) {
    const gradin_booking *b = &p->booking[show];
    *n = b->n_layout;
    for (int i = 0; i < *n; i++) choice[i] = b->layout[i];
    s->needs = GRADIN_CLASH_NONE;
    s->most = 0;
    keep(model, GRADIN_CLASH_SEATS, b->seats, choice, n, s);
    if (s->needs == GRADIN_CLASH_NONE)
        keep(model, GRADIN_CLASH_WHEELCHAIRS, b->wheelchairs, choice, n, s);
}
