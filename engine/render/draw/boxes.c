/* Boxes of labels, one after the other, each at the first free place upwards. */
#include "render/draw/boxes.h"

bool boxes_are_apart(gradin_box2 a, gradin_box2 b) {
    return a.x_max_m <= b.x_min_m || b.x_max_m <= a.x_min_m || a.y_max_m <= b.y_min_m ||
           b.y_max_m <= a.y_min_m;
}

static bool is_free(const label_boxes *boxes, gradin_box2 b) {
    gradin_box2 w = boxes->within;
    if (b.x_min_m < w.x_min_m || b.x_max_m > w.x_max_m || b.y_min_m < w.y_min_m ||
        b.y_max_m > w.y_max_m)
        return false;
    for (int i = 0; i < boxes->n; i++)
        if (!boxes_are_apart(boxes->box[i], b)) return false;
    for (int i = 0; i < boxes->n_taken; i++)
        if (!boxes_are_apart(boxes->taken[i], b)) return false;
    return true;
}

void boxes_take(label_boxes *boxes, gradin_box2 box) {
    if (boxes->n_taken < BOXES_MOST) boxes->taken[boxes->n_taken++] = box;
}

bool boxes_place(label_boxes *boxes, gradin_vec2 foot, double width, double height, double step,
                 int tries, gradin_box2 *placed) {
    gradin_box2 w = boxes->within;
    double x = fmin(fmax(foot.x, w.x_min_m + 0.5 * width), w.x_max_m - 0.5 * width);
    for (int i = 0; i <= tries && boxes->n < BOXES_MOST; i++) {
        double y = foot.y - i * step;
        gradin_box2 b = {x - 0.5 * width, y - height, x + 0.5 * width, y};
        if (!is_free(boxes, b)) continue;
        boxes->box[boxes->n++] = b;
        *placed = b;
        return true;
    }
    return false;
}
