/* envelope/keep_glass.h: what glass lets through, kept from one model to the next. */
#ifndef GRADIN_ENVELOPE_KEEP_GLASS_H
#define GRADIN_ENVELOPE_KEEP_GLASS_H

#include "acoustics/envelope/element.h"

typedef enum kept_glass_kind { KEPT_GLASS_R, KEPT_GLASS_ANGLE } kept_glass_kind;

typedef struct kept_glass_entry {
    char key[33];
    double r_db[GRADIN_N_BAND], shade_db[GRADIN_N_BAND]; /* KEPT_GLASS_R */
    gradin_by_angle by_angle;                            /* KEPT_GLASS_ANGLE */
} kept_glass_entry;

/* NULL without memory. */
gradin_kept_glass *gradin_kept_glass_create(void);
void gradin_kept_glass_destroy(gradin_kept_glass *kept);
/* Digest of all that the figures of an element's glass follow from. */
void gradin_kept_glass_key(const gradin_model *model, const gradin_element *element,
                           kept_glass_kind kind, char hex[33]);
/* NULL when it is not there, or `kept` is NULL. */
const kept_glass_entry *gradin_kept_glass_find(const gradin_kept_glass *kept, const char *key);
void gradin_kept_glass_add(gradin_kept_glass *kept, const kept_glass_entry *entry);

#endif
