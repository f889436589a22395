/* Projects drawn in the style of the literature, the same ones on every machine. */
#ifndef GRADIN_TESTS_PROJECTS_H
#define GRADIN_TESTS_PROJECTS_H

#include "studies/schedule/schedule.h"

enum { PROJECT_MOVES = 120, PROJECT_LIMITS = 4 };

typedef struct project_style {
    int n;
    double complexity; /* arcs per activity, the start and the end being two of them */
    double factor;     /* share of the limits that an activity uses */
    double strength;   /* 0: each limit lets the most demanding activity run; 1: no limit binds */
} project_style;

typedef struct project {
    int n, duration[PROJECT_MOVES], demand[PROJECT_MOVES * PROJECT_LIMITS];
    int capacity[PROJECT_LIMITS];
    bool before[PROJECT_MOVES * PROJECT_MOVES], apart[PROJECT_MOVES * PROJECT_MOVES];
} project;

void project_draw(project *x, const project_style *style, uint64_t seed);
schedule_problem project_problem(const project *x);
/* NULL, or which rule the starts break. */
const char *project_broken_rule(const project *x, const int *start_s, int total_s);

#endif
