// Every route is one fixed file; what it shows is read in the browser, from the store.
export const prerender = true;
export const trailingSlash = 'always';
