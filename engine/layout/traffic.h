/* layout/traffic.h: reading a season of traffic. */
#ifndef GRADIN_LAYOUT_TRAFFIC_H
#define GRADIN_LAYOUT_TRAFFIC_H

#include "gradin/traffic.h"
#include "layout/rows.h"
#include "layout/venue.h"

/* Classes and tracks must be there already. */
bool traffic_read_events(reader *r, const node *at, const char *path, bool skip_bad,
                         gradin_error *skipped, gradin_traffic *t);
bool traffic_read_tracks(reader *r, const node *list, gradin_traffic *t);

#endif
