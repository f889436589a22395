/* table/report/html.h: the parts of the HTML report. All text of files goes through html_put(). */
#ifndef GRADIN_TABLE_HTML_H
#define GRADIN_TABLE_HTML_H

#include "gradin/studies/report_write.h"
#include "table/shared/text.h"

/* Script and style of the page, as the build takes them from page.js and page.css; ended by NUL. */
extern const unsigned char report_page_js[], report_page_css[];

/* Text with & < > " ' as references: safe between tags and in quoted attributes. */
void html_put(table_text *out, const char *text);
void html_put_bytes(table_text *out, const char *text, size_t size);

/* The plan of layout `index` as inline SVG, seats coloured by rating, a caption and an empty list
 * for the legend. */
void html_put_plan(table_text *out, const gradin_report *report, int index);
/* All figures of all seats as JSON in which no '<' stands; false when out of memory. */
bool html_put_data(table_text *out, const gradin_report *report);
/* The heads of the list of seats, each with the button that sorts by it. */
void html_put_heads(table_text *out, const gradin_report *report);
/* Views of each layout, where there are any. */
bool html_has_views(const gradin_report *report);
void html_put_views(table_text *out, const gradin_report *report);
/* Level against time of each layout's overflight, where there is one. */
bool html_has_passing(const gradin_report *report);
void html_put_passing(table_text *out, const gradin_report *report);
/* Layouts compared: the verdict in sentences, the rest as tables. */
void html_put_compared(table_text *out, const gradin_comparison *comparison);
/* The choice of a layout for a show. */
void html_put_choice(table_text *out, const gradin_choice *choice);
/* The table of all layouts and the worst seats of each. */
void html_put_sums(table_text *out, const gradin_report *report);
void html_put_worst(table_text *out, const gradin_report *report);

/* GRADIN_BAD_USE for a report that is not complete. */
gradin_status report_complete(const gradin_report *report, gradin_error *error);

#endif
