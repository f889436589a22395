/* Events over several limits, levels by period of the day, and what spectra were stated as. */
#include "table/season/season.h"

#include <stdio.h>

const char *table_clock(char out[TABLE_DATE_CHARS], int second) {
    snprintf(out, TABLE_DATE_CHARS, "%02d:%02d", second / 3600 % 24, second / 60 % 60);
    return out;
}

static void put_bounded(table_text *out, double value, double low, double high) {
    table_put_right(out, TABLE_SECOND, value, 9);
    table_put_right(out, TABLE_SECOND, low, 7);
    table_put(out, " to");
    table_put_right(out, TABLE_SECOND, high, 6);
}

/* One limit stands in the performance's own lines already. */
static void put_limits(table_text *out, const gradin_season *s) {
    if (s->n_limit < 2) return;
    table_print(out, "\n%-14s%-25s%-25s%s\n", "Events a show", "    mean of seats, bounds",
                "   a tenth of seats more", "   worst seat");
    for (int i = 0; i < s->n_limit; i++) {
        const gradin_limit_count *c = &s->limit_count[i];
        table_put(out, "over");
        table_put_right(out, TABLE_DECIBEL, c->limit_dba, 6);
        table_put(out, " dB");
        put_bounded(out, c->mean, c->mean_low, c->mean_high);
        put_bounded(out, c->p90, c->p90_low, c->p90_high);
        put_bounded(out, c->worst, c->worst_low, c->worst_high);
        table_put(out, "\n");
    }
}

static const char *const period_name[GRADIN_N_PERIOD] = {"day", "evening", "night"};

static void put_periods(table_text *out, const gradin_season *s) {
    char text[TABLE_DATE_CHARS];
    if (s->period[0].hours == 0.0) return;
    table_print(out, "\n%-17s%10s%13s%9s%9s\n", "LAeq, listed, dB", "outside", "least seat",
                "median", "most");
    for (int k = 0; k < GRADIN_N_PERIOD; k++) {
        const gradin_period_level *p = &s->period[k];
        table_print(out, "  %-8sfrom %5s", period_name[k],
                    table_clock(text, s->traffic->periods.start_s[k]));
        table_put_right(out, TABLE_DECIBEL, p->outside_db, 8);
        table_put_right(out, TABLE_DECIBEL, p->seat_db.least, 13);
        table_put_right(out, TABLE_DECIBEL, p->seat_db.median, 9);
        table_put_right(out, TABLE_DECIBEL, p->seat_db.most, 9);
        table_put(out, "\n");
    }
    table_put(out, "  Lden outside    ");
    table_put_right(out, TABLE_DECIBEL, s->outside_den_db, 9);
    table_put(out, ", with ");
    table_put_number(out, TABLE_NOISE_CRITERION, s->period[GRADIN_PERIOD_EVENING].penalty_db);
    table_put(out, " and ");
    table_put_number(out, TABLE_NOISE_CRITERION, s->period[GRADIN_PERIOD_NIGHT].penalty_db);
    table_print(out,
                " dB on evening and night: Directive 2002/49/EC, of the listed events alone, over "
                "%d days and no year\n",
                s->n_day);
}

static void put_octaves(table_text *out, const gradin_season *s) {
    for (int k = 0; k < s->traffic->n_class; k++) {
        if (!s->traffic->class_of[k].is_octave) continue;
        table_put(out, "Octaves, each spread evenly over its thirds: the spectrum of ");
        table_put_fitted(out, s->traffic->class_of[k].name, 24, false);
        table_put(out, "\n");
    }
}

void table_put_counts(table_text *out, const gradin_season *season) {
    put_limits(out, season);
    put_periods(out, season);
    put_octaves(out, season);
}

static void json_bounded(table_json *json, json_t *parent, const char *key, double value,
                         double low, double high) {
    json_t *object = table_json_object(json, parent, key);
    table_json_number(json, object, "expected", TABLE_SECOND, value);
    table_json_number(json, object, "low", TABLE_SECOND, low);
    table_json_number(json, object, "high", TABLE_SECOND, high);
}

static void json_limits(table_json *json, const gradin_season *s) {
    json_t *array = table_json_array(json, json->root, "limits");
    for (int i = 0; i < s->n_limit; i++) {
        const gradin_limit_count *c = &s->limit_count[i];
        json_t *object = table_json_append_object(json, array);
        table_json_number(json, object, "limit_dba", TABLE_DECIBEL, c->limit_dba);
        json_bounded(json, object, "mean", c->mean, c->mean_low, c->mean_high);
        json_bounded(json, object, "p90", c->p90, c->p90_low, c->p90_high);
        json_bounded(json, object, "worst", c->worst, c->worst_low, c->worst_high);
        table_json_text(json, object, "worst_seat", s->model->seats.id[c->worst_seat]);
    }
}

static void json_periods(table_json *json, const gradin_season *s) {
    char text[TABLE_DATE_CHARS];
    json_t *array = table_json_array(json, json->root, "periods");
    for (int k = 0; k < GRADIN_N_PERIOD && s->period[0].hours > 0.0; k++) {
        const gradin_period_level *p = &s->period[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "period", period_name[k]);
        table_json_text(json, object, "from", table_clock(text, s->traffic->periods.start_s[k]));
        table_json_number(json, object, "hours", TABLE_SECOND, p->hours);
        table_json_number(json, object, "penalty_db", TABLE_DECIBEL, p->penalty_db);
        table_json_number(json, object, "outside_laeq_dba", TABLE_DECIBEL, p->outside_db);
        table_json_number(json, object, "least_laeq_dba", TABLE_DECIBEL, p->seat_db.least);
        table_json_number(json, object, "median_laeq_dba", TABLE_DECIBEL, p->seat_db.median);
        table_json_number(json, object, "p90_laeq_dba", TABLE_DECIBEL, p->seat_db.p90);
        table_json_number(json, object, "most_laeq_dba", TABLE_DECIBEL, p->seat_db.most);
    }
    table_json_number(json, json->root, "outside_lden_dba", TABLE_DECIBEL,
                      s->period[0].hours > 0.0 ? s->outside_den_db : NAN);
}

void table_json_counts(table_json *json, const gradin_season *season) {
    json_limits(json, season);
    json_periods(json, season);
}
