/* What of the envelope is in no level, and what it would add. */
#include "table/shared/gaps.h"

static void put_gain(table_text *out, const gradin_construction *of, double gain_db) {
    table_print(out, "    %s: + ", of->meaning);
    table_put_number(out, TABLE_DECIBEL, gain_db);
    table_print(out, " dB (%s)\n", of->source);
}

void table_put_gaps(table_text *out, const gradin_gaps *gaps) {
    for (int i = 0; i < gaps->n_gap; i++) {
        const gradin_gap *gap = &gaps->gap[i];
        table_print(out,
                    "  Not in these levels: %.0f m2 of %s, whose sound reduction is not stated.\n"
                    "    At the median seat it would add, were it of\n",
                    gap->area_m2, gap->what);
        put_gain(out, gap->light, gap->light_db);
        put_gain(out, gap->heavy, gap->heavy_db);
    }
    if (gaps->ground == GRADIN_GROUND_NONE)
        table_put(out, "  Not in these levels: the ground before the facade, which is not stated; "
                       "hard\n    ground adds up to 3 dB to what falls on walls.\n");
}

/* What adds gain_db to 1 is 10^(gain_db/10) - 1. */
static double alone(double gain_db) {
    return pow(10.0, gain_db / 10.0) - 1.0;
}

void table_put_gaps_alone(table_text *out, const gradin_gaps *gaps, double level_db) {
    double light = 0.0, heavy = 0.0;
    for (int i = 0; i < gaps->n_gap; i++) {
        light += alone(gaps->gap[i].light_db);
        heavy += alone(gaps->gap[i].heavy_db);
    }
    if (!(light > 0.0) || !isfinite(level_db)) return;
    table_put(out, "  What is not stated would let in ");
    table_put_number(out, TABLE_DECIBEL, level_db + 10.0 * log10(light));
    table_put(out, " dB at the median seat, were it light,\n  ");
    table_put_number(out, TABLE_DECIBEL, level_db + 10.0 * log10(heavy));
    table_put(out, " dB were it heavy.\n");
}

static void put_json_gain(table_json *json, json_t *array, const gradin_construction *of,
                          double gain_db) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "construction", of->meaning);
    table_json_text(json, object, "source", of->source);
    table_json_number(json, object, "adds_db", TABLE_DECIBEL, gain_db);
}

void table_json_gaps(table_json *json, json_t *parent, const gradin_gaps *gaps) {
    static const char *const ground[GRADIN_N_GROUND] = {"not_stated", "hard", "soft"};
    table_json_text(json, parent, "ground", ground[gaps->ground]);
    json_t *array = table_json_array(json, parent, "not_stated");
    for (int i = 0; i < gaps->n_gap; i++) {
        const gradin_gap *gap = &gaps->gap[i];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "part", gap->what);
        table_json_number(json, object, "area_m2", TABLE_COUNT, gap->area_m2);
        json_t *kinds = table_json_array(json, object, "generic");
        put_json_gain(json, kinds, gap->light, gap->light_db);
        put_json_gain(json, kinds, gap->heavy, gap->heavy_db);
    }
}
