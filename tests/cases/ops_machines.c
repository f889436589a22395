/* Operations of the text cases on machines: times of moves. */
#include "case.h"
#include "gradin/machines.h"

static double run_move_time(const double *in) {
    gradin_drive drive = {.speed_per_s = in[1], .accel_per_s2 = in[2]};
    return gradin_move_s(in[0], &drive);
}

const case_operation case_machines[] = {{"move_time", "s v a", run_move_time}, {0}};
