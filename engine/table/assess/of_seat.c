/* What the long and the short table both say of a seat. */
#include "table/assess/of_seat.h"

const char *of_seat_id(const gradin_assessment *a, int i) {
    return a->model->seats.id[i];
}
const char *of_seat_block(const gradin_assessment *a, int i) {
    return a->model->block_name[a->model->seats.block[i]];
}
const char *of_seat_level(const gradin_assessment *a, int i) {
    return a->model->level_name[a->model->seats.level[i]];
}
const char *of_seat_kind(const gradin_assessment *a, int i) {
    return gradin_seat_kind_name(a->model->seats.kind[i]);
}
const char *of_seat_rating(const gradin_assessment *a, int i) {
    return gradin_rating_name(a->sight.rating[i]);
}
const char *of_seat_row_label(const gradin_assessment *a, int i) {
    return a->model->seats.row_label ? a->model->seats.row_label[i] : NULL;
}
const char *of_seat_seat_label(const gradin_assessment *a, int i) {
    return a->model->seats.seat_label ? a->model->seats.seat_label[i] : NULL;
}
double of_seat_row(const gradin_assessment *a, int i) {
    return a->model->seats.row[i];
}
double of_seat_number(const gradin_assessment *a, int i) {
    return a->model->seats.number[i];
}
