/* How much memory the three forms of a transfer take. */
#include "acoustics/transfer/transfer.h"

double gradin_transfer_bytes(gradin_transfer_form form, int n_seat, int n_element, int n_patch,
                             int n_state) {
    double pair = 8.0 * n_seat * n_element;
    if (form == GRADIN_TRANSFER_BY_SIDE) return pair;
    if (form == GRADIN_TRANSFER_BY_ELEMENT) return GRADIN_N_BAND * n_state * pair;
    return pair + 8.0 * n_patch * (n_seat + (double)GRADIN_N_BAND * n_state * n_element);
}
