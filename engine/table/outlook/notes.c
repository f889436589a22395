/* What an outlook's figures mean and what is not in them, the same in every output. */
#include "table/outlook/outlook.h"

const char *const outlook_note[OUTLOOK_N_NOTE] = {
    "Outlook: the half of all directions ahead of the seated eye, level, the way the seat faces; "
    "open glass counts by the solid angle in which it is seen past people, rails and structure.",
    "Seen: half or more of a seated person's head is in view from there; partly: less of the head, "
    "or neck and shoulders alone; the house is full and each sits as the seat faces. Standing: "
    "share of the floor where somebody who stands there is in view at the eyes, or three quarters "
    "or half as high.",
    "Open: no shade hangs before the glass; one that is partly shut covers the upper part. Glass "
    "counts as clear, and what no file calls glass as opaque.",
    "Not in it: reflections, tinted or obscured glass, how light it is inside and out (by day "
    "glass "
    "hides more than is said here, by night a lit room shows everything that is said here), "
    "curtains, frames and mullions, trees, vehicles and other buildings.",
};

const char outlook_leaning_note[] =
    "Panes that lean count by their level picture on the wall, or their upright one on the roof.";
