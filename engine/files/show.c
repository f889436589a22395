/* A show: what it must have of a layout, what it wishes for, and what it shares the house with. */
#include "files/show.h"
#include "base/use.h"
#include "files/schema/read.h"
#include "files/schema/values.h"
#include "files/stated/show.h"
#include "gradin/files.h"

#include <string.h>

enum { HOUR_S = 3600 };

static const char *path_of(reader *r, const char *name) {
    if (!name) return NULL;
    return note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, name));
}

static void fill_must(const stated_must *s, gradin_show *show) {
    show->seats = s->seats;
    show->wheelchairs = s->wheelchairs;
    show->stage_m2 = s->stage_m2;
    show->clear_share = s->clear_share;
    show->good_share = s->good_share;
    show->distance_m = isnan(s->distance_m) ? INFINITY : s->distance_m;
    for (int k = 0; k < s->n_not_form; k++) show->is_form_excluded[s->not_form[k]] = true;
}

static void fill_quiet(reader *r, const stated_show *s, gradin_show *show) {
    const stated_quiet *q = s->quiet;
    if (!q) return;
    show->traffic_path = path_of(r, q->traffic);
    show->limit_dba = q->limit_dba;
    show->events = q->events;
    show->words_lost_a_show_s = q->words_lost_a_show_s;
    show->percentile = q->percentile;
    if (s->is_amplified && !isnan(q->words_lost_a_show_s))
        complain(r, map_get(q->at, "words_lost_a_show_s"),
                 "is asked of a voice that is amplified; how loud the loudspeakers are is not "
                 "known here");
}

static void fill_starts(reader *r, const stated_dates *d, gradin_show *show) {
    const node *list = map_get(d->at, "starts");
    show->n_start = d->n_start;
    for (int i = 0; i < d->n_start; i++) {
        const char *text;
        if (!value_clock(r, list->child[i], &text)) continue;
        show->start_s[i] = clock_s(text);
        for (int k = 0; k < i; k++)
            if (show->start_s[k] == show->start_s[i]) complain(r, list->child[i], "stands twice");
    }
}

static void fill_dates(reader *r, const stated_show *s, gradin_show *show) {
    const stated_dates *d = s->dates;
    if (!d || !d->at) return;
    if (!s->quiet)
        complain(r, map_get(s->at, "performances"),
                 "matter to the traffic that is heard; a show without quiet hears none");
    fill_starts(r, d, show);
    show->length_s = isnan(d->minutes) ? 0 : (int)nearbyint(60.0 * d->minutes);
    for (int k = 0; k < d->n_weekday; k++) show->is_day_played[d->weekday[k]] = true;
    show->from_s = day_under(r, d->at, "from", d->from);
    show->to_s = day_under(r, d->at, "to", d->to);
    if (show->from_s && show->to_s && show->to_s < show->from_s)
        complain(r, map_get(d->at, "to"), "is before from");
}

static void fill_partners(reader *r, const stated_show *s, gradin_show *show) {
    gradin_partner *partner = alloc(&r->c, s->n_partner, sizeof *partner);
    for (int i = 0; partner && i < s->n_partner; i++) {
        const stated_partner *from = &s->partner[i];
        partner[i] = (gradin_partner){.name = from->name,
                                      .layout_path = path_of(r, from->layout),
                                      .gap_s = HOUR_S * from->hours,
                                      .margin_s = 60.0 * from->margin_min,
                                      .start_s = from->start ? clock_s(from->start) : -1};
        if (from->at && partner[i].margin_s > partner[i].gap_s)
            complain(r, map_get(from->at, "margin_minutes"), "is more than all of its hours");
    }
    show->partner = partner;
    show->n_partner = s->n_partner;
}

static bool is_rows(const double row[2]) {
    return row[0] == floor(row[0]) && row[1] == floor(row[1]) && row[0] <= row[1];
}

static void fill_prices(reader *r, const stated_show *s, gradin_show *show) {
    gradin_price *price = alloc(&r->c, s->n_price, sizeof *price);
    for (int i = 0; price && i < s->n_price; i++) {
        const stated_price *from = &s->price[i];
        price[i] =
            (gradin_price){.name = from->name,
                           .price = from->price,
                           .block = from->block,
                           .n_block = from->n_block,
                           .rated = from->rated,
                           .distance_m = isnan(from->distance_m) ? INFINITY : from->distance_m};
        const node *blocks = from->at ? map_get(from->at, "blocks") : NULL;
        price[i].at = blocks ? &blocks->place : NULL;
        if (isnan(from->row[0])) continue;
        if (!is_rows(from->row))
            complain(r, map_get(from->at, "rows"),
                     "must be two whole numbers, the first no more than the last");
        price[i].row[0] = (int)from->row[0];
        price[i].row[1] = (int)from->row[1];
    }
    show->price = price;
    show->n_price = s->n_price;
}

/* Figures of wishes stand in the file's own unit of length, and hours. */
static double unit_of(gradin_ask ask, double unit_m) {
    switch (ask) {
    case GRADIN_ASK_STAGE:
        return unit_m * unit_m;
    case GRADIN_ASK_DISTANCE:
        return unit_m;
    case GRADIN_ASK_CHANGEOVER:
        return HOUR_S;
    default:
        return 1.0;
    }
}

static void fill_form(reader *r, const stated_wished *from, gradin_show *show, gradin_wished *to) {
    gradin_form *form = alloc(&r->c, from->n_form, sizeof *form);
    for (int k = 0; form && k < from->n_form; k++) form[k] = (gradin_form)from->form[k];
    if (from->n_form == 0 && from->at) complain(r, from->at, "of form needs forms");
    if (show->n_form > 0) complain(r, from->at, "is a second wish of form");
    show->form = form;
    show->n_form = from->n_form;
    to->full_at = 1.0;
}

/* What a wish is about must be there to be worked out. */
static void check_wish(reader *r, const stated_show *s, const stated_wished *from) {
    const node *at = map_get(from->at, "for");
    if (from->ask == GRADIN_ASK_EVENTS && (!s->quiet || isnan(s->quiet->limit_dba)))
        complain(r, at, "is events; quiet.limit_dba is missing");
    if (from->ask == GRADIN_ASK_WORDS && (!s->quiet || s->is_amplified))
        complain(r, at, "is words_lost; that needs quiet and a voice that is not amplified");
    if ((from->ask == GRADIN_ASK_CHANGEOVER || from->ask == GRADIN_ASK_CREW_HOURS) &&
        s->n_partner == 0)
        complain(r, at, "is about changeovers; partners are missing");
    if (from->ask == GRADIN_ASK_TAKINGS && s->n_price == 0)
        complain(r, at, "is takings; prices are missing");
    if (from->ask != GRADIN_ASK_FORM && from->n_form > 0)
        complain(r, map_get(from->at, "forms"), "belong to a wish of form alone");
    if (from->ask != GRADIN_ASK_FORM && from->nothing_at == from->full_at)
        complain(r, map_get(from->at, "full_at"), "must differ from nothing_at");
}

static void fill_wishes(reader *r, const stated_show *s, gradin_show *show) {
    gradin_wished *wished = alloc(&r->c, s->n_wished, sizeof *wished);
    double sum = 0.0;
    for (int i = 0; wished && i < s->n_wished; i++) {
        const stated_wished *from = &s->wished[i];
        if (!from->at) continue;
        double unit = unit_of(from->ask, r->unit_m);
        wished[i] = (gradin_wished){.ask = from->ask,
                                    .weight = from->weight,
                                    .nothing_at = unit * from->nothing_at,
                                    .full_at = unit * from->full_at};
        if (from->ask == GRADIN_ASK_FORM) {
            wished[i].nothing_at = 0.0;
            fill_form(r, from, show, &wished[i]);
        }
        check_wish(r, s, from);
        sum += from->weight;
    }
    if (s->n_wished > 0 && !(sum > 0.0) && r->c.n_error == 0)
        complain(r, map_get(s->at, "wishes"), "have no weight above 0");
    show->wished = wished;
    show->n_wished = s->n_wished;
}

bool show_read(reader *r, const char *path, gradin_show *show) {
    stated_show s = {0};
    const node *root = SCHEMA_READ_FILE(r, path, &show_schema, &s);
    if (!root || complaints_status(&r->c) != GRADIN_OK) return false;
    *show = gradin_show_defaults();
    show->name = s.name;
    show->file = path;
    show->at = s.dates ? &s.dates->at->place : &root->place;
    show->brief_path = path_of(r, s.brief);
    show->sold_to = s.sold_to;
    show->is_amplified = s.is_amplified;
    show->voice = s.voice;
    show->shades = s.shades;
    show->crew = s.crew;
    show->confidence = s.confidence;
    fill_must(&s.must, show);
    fill_quiet(r, &s, show);
    fill_dates(r, &s, show);
    fill_partners(r, &s, show);
    fill_prices(r, &s, show);
    fill_wishes(r, &s, show);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_show_read(gradin_arena *arena, const char *path, gradin_show *show,
                               gradin_error *error) {
    if (NEEDS(error, arena, path, show) != GRADIN_OK) return GRADIN_BAD_USE;
    char digest[33] = "";
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = digest};
    const char *file = gradin_arena_copy_text(arena, path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    show_read(&r, file, show);
    memcpy(show->digest, digest, sizeof digest);
    show->note = r.c.note;
    show->n_note = r.c.n_note;
    return complaints_status(&r.c);
}
