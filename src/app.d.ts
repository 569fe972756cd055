// The application adds nothing to SvelteKit's own App types; the file makes them known to the compiler.
declare global {
	namespace App {}
}
export {};
