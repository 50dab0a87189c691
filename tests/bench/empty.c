/* The least a process can be: what every other count is set against. */
int main(void) { return 0; }
