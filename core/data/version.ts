// Written by make.mjs; sources in SOURCES.md.

/** Version of the tables of this folder: the first 12 digits of the SHA-256 of them all. */
export const dataVersion = '3d0d7ece6ae9'
