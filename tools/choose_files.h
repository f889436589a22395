/* tools/choose_files.h: a show's choice among layouts that are files. */
#ifndef GRADIN_TOOLS_CHOOSE_FILES_H
#define GRADIN_TOOLS_CHOOSE_FILES_H

#include "command.h"
#include "gradin/studies/choose.h"

typedef struct chosen {
    gradin_show show;              /* read before */
    gradin_model *model, *partner; /* [n], [n_partner] */
    gradin_traffic traffic;
    gradin_choice choice;
} chosen;

/* Reads layout[n], the partners' and the traffic, and chooses. It must outlive its use. */
gradin_status choose_files(gradin_arena *arena, const char *const *layout, int n,
                           const gradin_choose_options *how, chosen *c, gradin_error *error);
/* What is to be known of the show's file. */
void say_show_notes(const chosen *c);

#endif
