/* gradin/gradin.h: the whole library. */
#ifndef GRADIN_GRADIN_H
#define GRADIN_GRADIN_H

#include "gradin/acoustics.h"
#include "gradin/base.h"
#include "gradin/buildup.h"
#include "gradin/changeover.h"
#include "gradin/draft.h"
#include "gradin/export.h"
#include "gradin/facade.h"
#include "gradin/fit.h"
#include "gradin/flights.h"
#include "gradin/geometry.h"
#include "gradin/glazing.h"
#include "gradin/layout.h"
#include "gradin/loads.h"
#include "gradin/machines.h"
#include "gradin/render.h"
#include "gradin/room.h"
#include "gradin/season.h"
#include "gradin/season_plot.h"
#include "gradin/season_write.h"
#include "gradin/sightline.h"
#include "gradin/source.h"
#include "gradin/speech.h"
#include "gradin/studies.h"
#include "gradin/table.h"
#include "gradin/traffic.h"
#include "gradin/version.h"
#include "gradin/wishes.h"

#endif
