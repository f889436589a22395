/* How far the ranking can be told: errors of the figures drawn again and again, the same for all
 * layouts where they share them.
 *
 * Sight: each layout has its own samples; all of its seats that samples leave open are moved
 * together, which spreads a count as far as it can be. Levels: the stated level of a source and the
 * envelope err alike in all layouts of a hall, the room of each by itself (two rooms of one hall
 * share more than that, so this spreads their difference rather too far). Hours: anywhere between
 * the proven least and the plan. What is not drawn: heights and habits of the audience, rates of
 * work, other traffic than that stated. */
#include "studies/choose/choose.h"

static const double same = 1e-12;

typedef struct drawn {
    bool is_in[GRADIN_MAX_CANDIDATE];
    double score[GRADIN_MAX_CANDIDATE], miss[GRADIN_MAX_CANDIDATE];
} drawn;

static double noise_shift(const gradin_show_noise *n, int draw, int candidate) {
    double all_db = hypot(hypot(n->source_db, n->envelope_db), n->room_db);
    if (!(all_db > 0.0)) return 0.0;
    return (n->source_db * choose_normal(draw, 0, CHOOSE_STREAM_SOURCE) +
            n->envelope_db * choose_normal(draw, 0, CHOOSE_STREAM_ENVELOPE) +
            n->room_db * choose_normal(draw, candidate, CHOOSE_STREAM_ROOM)) /
           all_db;
}

typedef struct shifts {
    double by[GRADIN_DOUBT_HOURS + 1];
} shifts;

static shifts draw_shifts(const gradin_candidate *c, int draw, int candidate) {
    return (shifts){
        {[GRADIN_DOUBT_NONE] = 0.0,
         [GRADIN_DOUBT_SIGHT] = choose_normal(draw, candidate, CHOOSE_STREAM_SIGHT),
         [GRADIN_DOUBT_NOISE] = noise_shift(&c->noise, draw, candidate),
         [GRADIN_DOUBT_HOURS] =
             CHOOSE_ENDS * (2.0 * choose_even(draw, candidate, CHOOSE_STREAM_HOURS) - 1.0)}};
}

static void draw_one(const gradin_choice *choice, int draw, int i, drawn *d) {
    const gradin_candidate *c = &choice->candidate[i];
    shifts s = draw_shifts(c, draw, i);
    double worth[GRADIN_MAX_WISHED];
    d->miss[i] = 0.0;
    for (int k = 0; k < c->n_must; k++) {
        const gradin_must *m = &c->must[k];
        double value = choose_at(&m->figure, s.by[m->figure.doubt]);
        d->miss[i] += choose_part(m->need, value, gradin_ask_wants_more(m->ask));
    }
    for (int k = 0; k < choice->show->n_wished; k++) {
        const gradin_asked *f = &c->figure[choice->show->wished[k].ask];
        worth[k] = choose_worth(&choice->show->wished[k], choose_at(f, s.by[f->doubt]));
    }
    d->is_in[i] = d->miss[i] <= same;
    d->score[i] = choose_score(choice->show, worth);
}

/* 1 when the one before is ahead, half of it when they are level. */
static double ahead(const gradin_choice *choice, const drawn *d, int place) {
    int a = choice->order[place], b = choice->order[place + 1];
    bool is_missing = choice->candidate[a].verdict == GRADIN_VERDICT_OVER;
    double by = is_missing ? d->miss[b] - d->miss[a] : d->score[a] - d->score[b];
    if (fabs(by) <= same) return 0.5;
    return by > 0.0;
}

static void scale(gradin_choice *choice) {
    double n = GRADIN_N_CHOICE_DRAW;
    for (int i = 0; i < choice->n_candidate; i++) {
        choice->candidate[i].meets_share /= n;
        choice->candidate[i].first_share /= n;
    }
    choice->none_share /= n;
    for (int k = 0; k + 1 < choice->n_candidate; k++) {
        const gradin_candidate *a = &choice->candidate[choice->order[k]];
        const gradin_candidate *b = &choice->candidate[choice->order[k + 1]];
        choice->ahead_share[k] /= n;
        choice->is_told[k] =
            a->verdict != b->verdict || choice->ahead_share[k] >= choice->show->confidence;
    }
}

void choose_draw(gradin_choice *choice) {
    double first[GRADIN_MAX_CANDIDATE] = {0.0};
    int n = choice->n_candidate;
    for (int draw = 0; draw < GRADIN_N_CHOICE_DRAW; draw++) {
        drawn d;
        for (int i = 0; i < n; i++) draw_one(choice, draw, i, &d);
        for (int i = 0; i < n; i++) choice->candidate[i].meets_share += d.is_in[i];
        choice->none_share += !choose_give_first(d.score, d.is_in, n, first);
        for (int k = 0; k + 1 < n; k++) choice->ahead_share[k] += ahead(choice, &d, k);
    }
    for (int i = 0; i < n; i++) choice->candidate[i].first_share = first[i];
    scale(choice);
}
