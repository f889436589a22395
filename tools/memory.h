/* tools/memory.h: a request for memory that fails ends the run, whichever library made it; what
 * must be so before the libraries start. */
#ifndef GRADIN_TOOLS_MEMORY_H
#define GRADIN_TOOLS_MEMORY_H

/* First of all in main(): before anything else asks for memory. Of this thread alone. */
void guard_memory(void);
/* Before anything else; may start the program anew. */
void start_well(char *const *argument);
/* From then on whichever thread asks. Those of the linear algebra run before main(), and one that
 * gets no memory must not end a run that is about to start anew without it. */
void guard_threads(void);
/* Last of all: the result of main(), as it is given. */
int leave_memory(int result);

#endif
