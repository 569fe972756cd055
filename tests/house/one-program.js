// Imported before eslint-plugin-svelte, whose parser looks for this when it is loaded. With it TypeScript reads of a
// `.svelte` file what the linter makes of it, so that all of them are one program; without it each is another text
// than the one on disk, and the program is made anew for every component: three times the processor time. The rules
// are the same, and they know the true types of a component that another one imports. The parser calls this an
// experiment and says so at each run; where a later version drops it, the linter is slow again and nothing else.
import process from 'node:process';

process.env.SVELTE_ESLINT_PARSER_EXPERIMENTAL_TS_SYS_HOOK = '1';
