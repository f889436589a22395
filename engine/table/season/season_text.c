/* A season on one screen. */
#include "base/use.h"
#include "gradin/studies/season_write.h"
#include "studies/shared/complete.h"

#include "table/season/season.h"
#include "table/shared/calibration.h"
#include "table/shared/cautions.h"
#include "table/shared/doubt.h"
#include "table/shared/gaps.h"
#include "table/shared/text.h"

#include <stdio.h>
#include <string.h>

enum { MOST_LINES = 12, NAME_COLUMNS = 16, SHOWN_STARTS = 5, SHOWN_SEATS = 5, SHOWN_BAYS = 3 };
enum { NEAR_STARTS = 12 }; /* start times to each side of the stated one: 3 hours */

const char *table_voice_name(int effort) {
    static const char *const name[] = {"normal", "raised", "loud", "shouting"};
    return name[effort];
}

/* Civil date from days (inverse of the count in days since 1970; H. Hinnant). */
static void put_spread(table_text *out, const char *what, table_quantity quantity,
                       const gradin_spread *s) {
    table_print(out, "  %-31s", what);
    const double value[5] = {s->least, s->p10, s->median, s->p90, s->most};
    for (int i = 0; i < 5; i++) table_put_right(out, quantity, value[i], 9);
    table_put(out, "\n");
}

static double least_level_db(const gradin_season *s) {
    double least_db = INFINITY;
    for (int k = 0; k < s->n_flight; k++) least_db = fmin(least_db, s->flight_lamax_db[k].least);
    return least_db;
}

static void put_flights(table_text *out, const gradin_season *s) {
    const char *maximum = gradin_maximum_name(s->traffic->weighting);
    table_print(out, "\n%-16s%-16s%7s%9s  seats, %s dB%*swords\n", "Class", "track", "events",
                "outside", maximum, 13 - (int)strlen(maximum), "");
    table_print(out, "%45s dB  least median   most  lost s\n", maximum);
    int shown = s->n_flight > MOST_LINES ? MOST_LINES : s->n_flight;
    for (int k = 0; k < shown; k++) {
        const gradin_flight *f = &s->flight[k];
        table_put_fitted(out, s->traffic->class_of[f->class_index].name, NAME_COLUMNS - 1, true);
        table_put(out, " ");
        table_put_fitted(out, s->traffic->track[f->track].name, NAME_COLUMNS - 1, true);
        table_print(out, "%7d", s->n_event[k]);
        table_put_right(out, TABLE_DECIBEL, f->outside_lamax_db, 9);
        table_put_right(out, TABLE_DECIBEL, s->flight_lamax_db[k].least, 8);
        table_put_right(out, TABLE_DECIBEL, s->flight_lamax_db[k].median, 7);
        table_put_right(out, TABLE_DECIBEL, s->flight_lamax_db[k].most, 7);
        table_put_right(out, TABLE_DECIBEL, s->flight_lost_s[k].median, 8);
        table_put(out, "\n");
    }
    if (shown < s->n_flight) table_print(out, "and %d more in flights.csv\n", s->n_flight - shown);
    table_put(out, "Outside: free field at the point of the hall nearest to the track, without the "
                   "facade's reflection (2 m before the facade about 3 dB more, on it 6 dB).\n");
    table_put_quiet(out, least_level_db(s), s->n_background > 0 ? s->background[0].level_dba : NAN);
    table_print(out,
                "Words lost: seconds of an event, median seat, in which a %s voice has an SII "
                "below ",
                table_voice_name((int)s->voice.effort));
    table_put_number(out, TABLE_SECOND, s->traffic->sii_least);
    table_put(out, ".\n");
}

static void put_reverberation(table_text *out, const gradin_season *s) {
    static const int octave_hz[4] = {125, 500, 1000, 4000};
    static const int band[4] = {4, 10, 13, 19};
    table_put(out, "Reverberation, s:");
    for (int i = 0; i < 4; i++) {
        table_print(out, "%s %d Hz ", i ? "," : "", octave_hz[i]);
        table_put_number(out, TABLE_SECOND, s->room.reverberation_s[band[i]]);
    }
    table_put(out, "\n");
}

static void put_seats(table_text *out, const gradin_season *s) {
    table_print(out, "\n%-33s%9s%9s%9s%9s%9s\n", "Over the seats", "least", "10 %", "median",
                "90 %", "most");
    char what[40];
    snprintf(what, sizeof what, "loudest event, %s dB", gradin_maximum_name(s->traffic->weighting));
    put_spread(out, what, TABLE_DECIBEL, &s->lamax_spread);
    put_spread(out, "NC at that maximum", TABLE_NOISE_CRITERION, &s->nc_spread);
    put_spread(out, "events in performances, LAeq dB", TABLE_DECIBEL, &s->laeq_spread);
    if (!isnan(s->limit_dba))
        put_spread(out, "expected over the limit, a show", TABLE_SECOND, &s->over_spread);
    put_spread(out, "SII of the voice, no traffic", TABLE_SECOND, &s->sii_spread);
    table_put_doubt(out, &s->uncertainty, s->systematic_spread.median,
                    "beyond what their offsets state");
    table_print(out, "    %s\n", s->room.uncertainty_source);
    table_put_gaps(out, &s->gaps);
    table_put_calibration(out, &s->room.calibration, &s->predicted_spread, &s->lamax_spread);
    if (isnan(s->limit_dba)) return;
    table_put(out, "Loudest event against ");
    table_put_number(out, TABLE_DECIBEL, s->limit_dba);
    table_put(out, " dB");
    table_put_verdicts(out, s->n_verdict, s->model->seats.n_seat, s->model->criterion.confidence,
                       &s->gaps);
}

/* Each state of the hall's own noise: more of it hides the voice, and the flights as well. */
static void put_backgrounds(table_text *out, const gradin_season *s) {
    if (s->n_background == 0) return;
    table_print(out, "\n%-24s%8s%5s%11s%12s%10s%10s\n", "The hall's own noise", "dB(A)", "NC",
                "SII median", "seats below", "words", "lost s");
    table_print(out, "%60s%10s%10s\n", "", "median", "90 %");
    for (int k = 0; k < s->n_background; k++) {
        const gradin_season_background *b = &s->background[k];
        table_put(out, "  ");
        table_put_fitted(out, b->name, 22, true);
        table_put_right(out, TABLE_DECIBEL, b->level_dba, 8);
        table_put_right(out, TABLE_NOISE_CRITERION, b->nc, 5);
        table_put_right(out, TABLE_SECOND, b->sii.median, 11);
        table_put_right(out, TABLE_COUNT, b->n_lacking, 12);
        table_put_right(out, TABLE_DECIBEL, b->lost_s.median, 10);
        table_put_right(out, TABLE_DECIBEL, b->lost_s.p90, 10);
        table_put(out, "\n");
    }
    table_put(out, "Seats below: an SII below ");
    table_put_number(out, TABLE_SECOND, s->traffic->sii_least);
    table_put(out, " without traffic; they have no words to lose.");
    table_put(out, s->n_background > 1 ? " The other figures here are beside the first.\n" : "\n");
}

/* The quietest start times within NEAR_STARTS of the stated one, earliest first among equals. */
static void put_starts(table_text *out, const gradin_season *s) {
    bool is_put[2 * NEAR_STARTS + 1] = {false};
    char text[TABLE_DATE_CHARS];
    int middle = s->traffic->start_s / GRADIN_START_STEP_S;
    table_put(out, "Quietest starts within three hours: ");
    for (int n = 0; n < SHOWN_STARTS; n++) {
        int best = -1;
        double least = INFINITY;
        for (int i = 0; i <= 2 * NEAR_STARTS; i++) {
            int k = (middle - NEAR_STARTS + i + GRADIN_N_START) % GRADIN_N_START;
            if (is_put[i] || s->start_over[k] >= least) continue;
            least = s->start_over[k];
            best = i;
        }
        if (best < 0) break;
        is_put[best] = true;
        int k = (middle - NEAR_STARTS + best + GRADIN_N_START) % GRADIN_N_START;
        table_print(out, "%s%s (", n ? ", " : "", table_clock(text, k * GRADIN_START_STEP_S));
        table_put_number(out, TABLE_DECIBEL, least);
        table_put(out, ")");
    }
    table_put(out, "\n");
}

static void put_performances(table_text *out, const gradin_season *s) {
    char text[TABLE_DATE_CHARS];
    if (isnan(s->limit_dba)) {
        table_put(out, "\nNo limit of an event's maximum is stated: nothing is counted.\n");
        return;
    }
    table_print(out, "\nA performance of %d min at %s: ", s->traffic->length_s / 60,
                table_clock(text, s->traffic->start_s));
    table_put_number(out, TABLE_DECIBEL, s->show_over);
    table_print(out, " events expected over %s ", gradin_maximum_name(s->traffic->weighting));
    table_put_number(out, TABLE_DECIBEL, s->limit_dba);
    table_put(out, " dB, mean of seats and days");
    if (s->worst_show_over > 0.0) {
        table_put(out, "; ");
        table_put_number(out, TABLE_DECIBEL, s->worst_show_over);
        table_print(out, " on the worst day, %s",
                    table_date(text, s->first_day_s + (int64_t)s->worst_day * 86400));
    }
    table_put(out, "; ");
    table_put_number(out, TABLE_DECIBEL, s->show_over_low);
    table_put(out, " to ");
    table_put_number(out, TABLE_DECIBEL, s->show_over_high);
    table_put(out, " as far as levels are known, each bound at a confidence of ");
    table_put_number(out, TABLE_NOISE_CRITERION, 100.0 * s->model->criterion.confidence);
    table_put(out, " %\n");
    put_starts(out, s);
}

static void put_worst_seats(table_text *out, const gradin_season *s) {
    table_print(out, "\n%-24s%10s%9s%14s%14s%7s\n", "Seats that hear most", "LAmax dB", "LAeq dB",
                "over limit", "words lost s", "SII");
    for (int i = 0; i < s->n_worst_seat && i < SHOWN_SEATS; i++) {
        int seat = s->worst_seat[i];
        table_put(out, "  ");
        table_put_fitted(out, s->model->seats.id[seat], 22, true);
        table_put_right(out, TABLE_DECIBEL, s->lamax_db[seat], 10);
        table_put_right(out, TABLE_DECIBEL, s->laeq_db[seat], 9);
        table_put_right(out, TABLE_SECOND, isnan(s->limit_dba) ? NAN : s->over_show[seat], 14);
        table_put_right(out, TABLE_DECIBEL, s->lost_s[seat], 14);
        table_put_right(out, TABLE_SECOND, s->voice.sii[seat], 7);
        table_put(out, "\n");
    }
}

static void put_bays(table_text *out, const gradin_season *s) {
    table_put(out, "Facade by energy at the seats\n");
    for (int i = 0; i < s->n_bays && i < SHOWN_BAYS; i++) {
        const gradin_bays *bays = &s->bays[i];
        table_put_right(out, TABLE_PERCENT, 100.0 * bays->share, 7);
        table_put(out, " %  ");
        table_put_fitted(out, bays->entry, 30, false);
        if (bays->n_element > 1) {
            table_print(out, ", %d bays, most by ", bays->n_element);
            table_put_fitted(out, s->model->element[bays->loudest_element].name, 20, false);
        }
        if (isfinite(bays->without_db)) {
            table_put(out, " (if perfect: ");
            table_put_number(out, TABLE_DECIBEL, fabs(bays->without_db));
            table_put(out, " dB less)");
        }
        table_put(out, "\n");
    }
}

gradin_status gradin_season_text(gradin_arena *arena, const gradin_season *season, char **text,
                                 gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        season_tables_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put_fitted(&out, season->model->layout_name, 30, false);
    table_put(&out, ": ");
    table_put_fitted(&out, season->traffic->name, 40, false);
    table_print(&out, ", %d events on %d days", season->traffic->n_event, season->n_day);
    if (season->traffic->n_skipped > 0)
        table_print(&out, ", %d bad rows skipped", season->traffic->n_skipped);
    table_put(&out, "\n");
    if (season->room.n_patch > 0)
        table_print(&out, "room by radiosity over %d patches\n", season->room.n_patch);
    else
        table_put(&out, "room taken as diffuse\n");
    if (season->room.room_note[0] != '\0') table_print(&out, "%s\n", season->room.room_note);
    put_reverberation(&out, season);
    put_flights(&out, season);
    put_seats(&out, season);
    put_backgrounds(&out, season);
    put_performances(&out, season);
    table_put_counts(&out, season);
    put_worst_seats(&out, season);
    put_bays(&out, season);
    table_put(&out, "\n");
    for (int k = 0; k < TABLE_N_CAUTION; k++) table_print(&out, "%s\n", table_caution[k]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the season");
    *text = out.bytes;
    return GRADIN_OK;
}
