// Style sheets are imported for their effect; the build puts them into a file of their own.
declare module '*.css';
