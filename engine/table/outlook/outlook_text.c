/* An outlook for people. */
#include "base/use.h"
#include "gradin/studies/outlook_write.h"
#include "sightline/outlook/complete.h"
#include "table/outlook/outlook.h"
#include "table/shared/text.h"

enum { NAME_COLUMNS = 30 };

static void put_glass(table_text *out, const gradin_outlook *o) {
    if (o->glass_m2 <= 0.0) {
        table_put(out, "The hall has no glass: nothing is seen through its walls.\n");
        return;
    }
    table_put(out, "Glass that lets see through: ");
    table_put_number(out, TABLE_AREA, o->open_m2);
    table_put(out, " of ");
    table_put_number(out, TABLE_AREA, o->glass_m2);
    table_print(out, " m2, %s.\n",
                o->are_shades_up ? "every shade taken as up" : "shades as the layout sets them");
    if (o->open_m2 <= 0.0)
        table_put(out, "All shades are shut, so nothing is seen. --shades up asks what would be "
                       "seen with every shade up.\n");
}

static void put_seats(table_text *out, const gradin_outlook *o) {
    if (o->n_seat == 0) return;
    table_print(out, "Open glass as a share of the outlook, %d seats: median ", o->n_seat);
    table_put_number(out, TABLE_PERCENT, 100.0 * o->median);
    table_put(out, " %, most ");
    table_put_number(out, TABLE_PERCENT, 100.0 * o->most);
    table_put(out, " %");
    if (o->most > 0.0) {
        table_put(out, " at ");
        table_put_fitted(out, o->model->seats.id[o->most_seat], 40, false);
    }
    table_put(out, "\n");
}

static void put_point(table_text *out, const gradin_outlook *o, int point) {
    const int *n_seen = &o->n_seen[point * GRADIN_N_SEEN];
    table_print(out, "  %2d ", point + 1);
    table_put_fitted(out, o->outside->point[point].name, NAME_COLUMNS, true);
    table_put_length_right(out, o->away_m[point], length_unit_of(o->model->units), 9);
    table_print(out, "%8d%8d%8d\n", n_seen[GRADIN_SEEN_HEAD], n_seen[GRADIN_SEEN_PARTLY],
                n_seen[GRADIN_SEEN_HIDDEN]);
}

static void put_points(table_text *out, const gradin_outlook *o) {
    table_put(out, "\n  Seats        ");
    table_put_fitted(out, "", NAME_COLUMNS - 10, true);
    table_print(out, "from wall %-2s    seen  partly  hidden\n",
                length_unit_of(o->model->units).name);
    for (int p = 0; p < o->n_point; p++) put_point(out, o, p);
}

static void put_area(table_text *out, const gradin_outlook *o, int point, int area) {
    int at = point * o->n_area + area;
    table_print(out, "  %2d ", point + 1);
    table_put_fitted(out, o->model->focus[area].name, NAME_COLUMNS, true);
    table_put_right(out, TABLE_PERCENT, 100.0 * o->area[at], 9);
    table_put_right(out, TABLE_PERCENT, 100.0 * o->standing[at], 16);
    table_put(out, "\n");
}

static void put_areas(table_text *out, const gradin_outlook *o) {
    table_put(out, "\n  Focus, in %  ");
    table_put_fitted(out, "", NAME_COLUMNS - 5, true);
    table_put(out, "seen  who stands there\n");
    for (int p = 0; p < o->n_point; p++)
        for (int a = 0; a < o->n_area; a++) put_area(out, o, p, a);
}

gradin_status gradin_outlook_text(gradin_arena *arena, const gradin_outlook *outlook, char **text,
                                  gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "Outlook of ");
    table_put_fitted(&out, outlook->model->layout_name, 60, false);
    table_put(&out, "\n");
    put_glass(&out, outlook);
    put_seats(&out, outlook);
    put_points(&out, outlook);
    put_areas(&out, outlook);
    table_put(&out, "\n");
    for (int k = 0; k < OUTLOOK_N_NOTE; k++) table_print(&out, "%s\n", outlook_note[k]);
    if (outlook->n_leaning > 0) table_print(&out, "%s\n", outlook_leaning_note);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = out.bytes;
    return GRADIN_OK;
}
