/* The mix of people from whom an audience is drawn. */
#include "files/layout_read.h"

void population_read(reader *r, const node *at, gradin_population *p) {
    READ(r, at, {"women", FIELD_NUMBER, true, 0, 1, &p->women, 0},
         {"men", FIELD_NUMBER, true, 0, 1, &p->men, 0},
         {"children", FIELD_NUMBER, false, 0, 1, &p->children, 0},
         {"slump", FIELD_LENGTH, false, 0, 0.2, &p->slump_m, 0},
         {"seat_height", FIELD_LENGTH, false, 0.2, 0.8, &p->seat_height_m, 0});
    if (fabs(p->women + p->men + p->children - 1.0) > 1e-6)
        complain(r, at, "has shares of women, men and children that do not add up to 1");
}
