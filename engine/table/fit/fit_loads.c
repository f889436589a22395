/* Loads over the venue's stated limits, as text and as JSON. */
#include "table/fit/fit.h"

static const char *const kind_name[] = {"spread", "total", "under one thing", "people", "mass"};
static const char *const kind_unit[] = {"kN/m2", "kN", "kN/m2", "", "kg"};

static int decimals(gradin_load_kind kind) {
    return kind == GRADIN_LOAD_PEOPLE || kind == GRADIN_LOAD_MASS ? 0 : 2;
}

static void put_value(table_text *out, double value, int n_decimal, int columns) {
    char text[400];
    gradin_format_fixed(text, sizeof text, value, n_decimal);
    table_print(out, "%*s", columns, text);
}

static void put_overload(table_text *out, const gradin_overload *o) {
    table_put(out, "  ");
    table_put_fitted(out, o->where, 16, true);
    table_put(out, " ");
    table_put_fitted(out, kind_name[o->kind], 15, true);
    put_value(out, o->load, decimals(o->kind), 8);
    put_value(out, o->limit, decimals(o->kind), 8);
    put_value(out, o->load - o->limit, decimals(o->kind), 8);
    table_print(out, "  %-6s", kind_unit[o->kind]);
    table_put_fitted(out, o->what, 26, false);
    table_put(out, "\n");
}

static void put_occupancy(table_text *out, const gradin_occupancy *o) {
    table_put(out, "  counted as: ");
    for (int i = 0; i < GRADIN_N_USE; i++) {
        table_print(out, "%s%s ", i > 0 ? ", " : "", gradin_use_name((gradin_use)i));
        put_value(out, o->load_kn_m2[i], 2, 0);
        if (o->is_own[i]) table_put(out, " (the venue's own)");
    }
    table_put(out, " kN/m2; a person ");
    put_value(out, o->person_kg, 0, 0);
    table_print(out, " kg\n  by %s\n", o->source);
}

void table_put_loads(table_text *out, const gradin_fit *fit) {
    if (fit->n_limited == 0) {
        table_put(out, "\nLoads: the venue states no load_limit and no payload\n");
        return;
    }
    table_print(out, "\nLoads over their stated limits: %d (%d surfaces and towers state one)\n",
                fit->n_overload, fit->n_limited);
    if (fit->n_overload > 0)
        table_print(out, "  %-16s %-15s%8s%8s%8s\n", "at", "what counts", "load", "limit", "over");
    for (int i = 0; i < fit->n_overload; i++) put_overload(out, &fit->overload[i]);
    if (fit->hanging) table_print(out, "  nothing here bears all of %s\n", fit->hanging);
    put_occupancy(out, &fit->model->machinery->loads.occupancy);
}

void table_json_loads(table_json *json, const gradin_fit *fit) {
    const gradin_occupancy *o = &fit->model->machinery->loads.occupancy;
    json_t *loads = table_json_object(json, json->root, "loads");
    table_json_integer(json, loads, "limits_stated", fit->n_limited);
    table_json_text(json, loads, "source", o->source);
    table_json_number(json, loads, "seated_kn_m2", TABLE_METRE, o->load_kn_m2[GRADIN_USE_SEATED]);
    table_json_number(json, loads, "open_kn_m2", TABLE_METRE, o->load_kn_m2[GRADIN_USE_OPEN]);
    table_json_number(json, loads, "stage_kn_m2", TABLE_METRE, o->load_kn_m2[GRADIN_USE_STAGE]);
    table_json_number(json, loads, "person_kg", TABLE_PERCENT, o->person_kg);
    json_t *over = table_json_array(json, loads, "over");
    for (int i = 0; i < fit->n_overload; i++) {
        const gradin_overload *one = &fit->overload[i];
        json_t *object = table_json_append_object(json, over);
        table_json_text(json, object, "at", one->where);
        table_json_text(json, object, "what", one->what);
        table_json_text(json, object, "kind", kind_name[one->kind]);
        table_json_text(json, object, "unit", kind_unit[one->kind]);
        table_json_number(json, object, "load", TABLE_METRE, one->load);
        table_json_number(json, object, "limit", TABLE_METRE, one->limit);
    }
    table_json_text(json, loads, "not_borne", fit->hanging);
}
