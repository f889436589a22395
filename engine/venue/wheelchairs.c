/* Places for wheelchairs by the venue's own table: the line of the most seats that the count has
 * reached. A table of a code writes its last line so: 6 places from 501 seats on, and one more for
 * each 150 seats or part of them over 500 (ADA Standards 2010, table 221.2.1.1). */
#include "gradin/machines.h"

int gradin_wheelchairs_needed(const gradin_local_rules *rules, int n_seat) {
    const gradin_wheelchair_rule *line = NULL;
    if (!rules || !rules->wheelchair || rules->n_wheelchair <= 0) return -1;
    for (int i = 0; i < rules->n_wheelchair && rules->wheelchair[i].from_seats <= n_seat; i++)
        line = &rules->wheelchair[i];
    if (!line) return 0;
    if (line->one_more_per <= 0) return line->places;
    int over = n_seat - line->from_seats + 1;
    return line->places + (over + line->one_more_per - 1) / line->one_more_per;
}
