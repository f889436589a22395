/* Units of the files and what they become inside; defaults. A number is either multiplied or
 * divided, so that a value like 0.76 mm gives the same double as 0.76 / 1000 in C. */
#include "files/schema/schema.h"

#include <limits.h>
#include <string.h>

typedef struct unit_row {
    const char *name;
    double times, per; /* one of them is 1 */
} unit_row;

static const unit_row units[N_UNIT] = {
    [UNIT_NONE] = {"", 1, 1},
    [UNIT_LENGTH] = {"m", 1, 1},
    [UNIT_AREA] = {"m2", 1, 1},
    [UNIT_M2] = {"m2", 1, 1},
    [UNIT_MM] = {"mm", 1, 1000},
    [UNIT_DEG] = {"deg", 1, 1},
    [UNIT_DEG_S] = {"deg/s", 1, 1},
    [UNIT_DEG_S2] = {"deg/s2", 1, 1},
    [UNIT_DB] = {"dB", 1, 1},
    [UNIT_DBA] = {"dB(A)", 1, 1},
    [UNIT_HZ] = {"Hz", 1, 1},
    [UNIT_S] = {"s", 1, 1},
    [UNIT_S_TO_RATE] = {"s", 1, 1},
    [UNIT_MINUTES] = {"min", 1, 1},
    [UNIT_HOURS] = {"h", 1, 1},
    [UNIT_M_S] = {"m/s", 1, 1},
    [UNIT_M_S2] = {"m/s2", 1, 1},
    [UNIT_KG] = {"kg", 1, 1},
    [UNIT_KG_M2] = {"kg/m2", 1, 0.001},
    [UNIT_KG_M3] = {"kg/m3", 1, 1},
    [UNIT_KN] = {"kN", 1, 1},
    [UNIT_KN_M2] = {"kN/m2", 1, 1},
    [UNIT_KW] = {"kW", 1, 1},
    [UNIT_KPA] = {"kPa", 1, 1},
    [UNIT_MPA] = {"MPa", 1e6, 1},
    [UNIT_GPA] = {"GPa", 1e9, 1},
    [UNIT_PA_S_M] = {"Pa s/m", 1, 1},
    [UNIT_PA_S_M2] = {"Pa s/m2", 1, 1},
    [UNIT_DEG_C] = {"degC", 1, 1},
    [UNIT_PERCENT] = {"%", 1, 1},
    [UNIT_SHARE] = {"share", 1, 1},
    [UNIT_SEATS_PERSON_HOUR] = {"seats per person and hour", 1, 1},
    [UNIT_S_ROW] = {"s per row", 1, 1},
    [UNIT_M_PERSON_HOUR] = {"m per person and hour", 1, 1},
    [UNIT_KG_PERSON_HOUR] = {"kg per person and hour", 1, 1},
    [UNIT_MM_PERSON] = {"mm per person", 1, 1},
    [UNIT_MACHINE] = {"m, deg or share", 1, 1},
};

const char *schema_unit_name(schema_unit unit) {
    return units[unit].name;
}

double schema_from_file(schema_unit unit, double unit_m, double written) {
    if (unit == UNIT_LENGTH) return written * unit_m;
    if (unit == UNIT_AREA) return written * unit_m * unit_m;
    if (unit == UNIT_S_TO_RATE) return written > 0.0 ? 1.0 / written : INFINITY;
    return written * units[unit].times / units[unit].per;
}

double schema_to_file(schema_unit unit, double unit_m, double value) {
    if (unit == UNIT_LENGTH) return value / unit_m;
    if (unit == UNIT_AREA) return value / unit_m / unit_m;
    if (unit == UNIT_S_TO_RATE) return isinf(value) ? 0.0 : 1.0 / value;
    return value * units[unit].per / units[unit].times;
}

double schema_preset(const schema_key *key, int index) {
    double preset = key->preset_row ? key->preset_row[index] : key->preset;
    return schema_from_file(key->unit, 1.0, preset);
}

static void set_row(const schema_key *key, double *value, int n) {
    for (int i = 0; i < n; i++) value[i] = schema_preset(key, i);
}

static int numbers_in(const schema_key *key) {
    switch (key->kind) {
    case SCHEMA_NUMBER:
        return 1;
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
        return 2;
    case SCHEMA_ROW:
        return key->n_most;
    case SCHEMA_SPECTRUM:
        return GRADIN_N_BAND;
    default:
        return 0;
    }
}

/* Pointers, counts and polygons are zero from the start. */
static void set_preset(const schema_key *key, char *item) {
    int whole = isfinite(key->preset) ? (int)key->preset : INT_MIN; /* what no file can state */
    bool flag = key->preset != 0.0 && !isnan(key->preset);
    if (key->refused) return;
    if (numbers_in(key) > 0)
        set_row(key, (double *)(void *)(item + key->offset), numbers_in(key));
    else if (key->kind == SCHEMA_INTEGER || key->kind == SCHEMA_CHOICE)
        memcpy(item + key->offset, &whole, sizeof whole);
    else if (key->kind == SCHEMA_FLAG)
        memcpy(item + key->offset, &flag, sizeof flag);
    else if (key->kind == SCHEMA_MAP)
        schema_set_presets(key->below, item + key->offset);
}

void schema_set_presets(const schema_table *table, void *item) {
    memset(item, 0, table->size);
    for (int f = 0; table->form && table->form[f]; f++)
        for (int i = 0; i < table->form[f]->n_key; i++) set_preset(&table->form[f]->key[i], item);
    for (int i = 0; i < table->n_key; i++) set_preset(&table->key[i], item);
}

bool schema_has_key(const schema_table *table, const char *word) {
    for (int i = 0; i < table->n_key; i++)
        if (strcmp(table->key[i].key, word) == 0) return true;
    return false;
}

int schema_next_key(const schema_table *table, int i) {
    int next = i + 1;
    while (next < table->n_key && strcmp(table->key[next].key, table->key[i].key) == 0) next++;
    return next;
}
