import { heldWords } from '../../../core/checks/glare/held-words.ts'
import type { PlateUse } from '../../../core/export/plate-wish.ts'
import type { StillKind } from '../../../core/export/stills/wish.ts'
import type { Note } from '../../../core/proof/notes.ts'
import { shortId } from '../../../core/proof/version.ts'
import type { MovieFormat } from '../../export/movie.ts'
import type { SendKind, TakenIn } from '../../state/proofs.ts'
import type { ProofsSection } from '../../state/state.ts'
import { shown } from '../NumberField.tsx'

export const sectionWords: Readonly<Record<ProofsSection, string>> = {
  send: 'Send out',
  versions: 'Versions',
  notes: 'Notes',
  signoff: 'Sign-off',
}

/** What each is called, what the receiver gets, and what it is good for. */
export const sendWords: Readonly<
  Record<SendKind, { readonly title: string; readonly gets: string; readonly does: string }>
> = {
  page: {
    title: 'One-file proof',
    gets: 'One page that opens in any browser, without a network: the carton, to be tilted by hand. For clients, who can put notes on it and send them back.',
    does: 'Make the proof',
  },
  movie: {
    title: 'Movie',
    gets: 'A film of the carton as it tilts. For slides and messages, where nothing can be opened.',
    does: 'Make the movie',
  },
  pictures: {
    title: 'Pictures',
    gets: 'Stills of the carton over tilt and turn, and at its best and its worst. For mail, layouts and records.',
    does: 'Make the pictures',
  },
  plates: {
    title: 'Plates',
    gets: 'A separation for each white, ink, varnish and the die, at true size. For the film that is laid over foil, or for press.',
    does: 'Make the plates',
  },
  sheet: {
    title: 'Proof sheet',
    gets: 'A PDF of pictures, coats, effects, findings and notes. For a meeting, on paper or on a screen.',
    does: 'Make the sheet',
  },
}

/** Kinds of movie, and what each is good for. */
export const movieWords: Readonly<Record<MovieFormat, { readonly title: string; readonly says: string }>> = {
  mp4: { title: 'MP4', says: 'Plays in slides, messages and on phones.' },
  webm: { title: 'WebM', says: 'Plays in browsers; may be transparent.' },
  gif: { title: 'GIF', says: 'Plays inside a mail. 256 colours: rainbows show steps.' },
  png: { title: 'Animated PNG', says: 'Plays inside a mail or a page, in all colours. Large.' },
  frames: { title: 'Frames', says: 'A zip of numbered PNG pictures, for who edits films.' },
}

/** Kinds of stills. */
export const stillWords: Readonly<Record<StillKind, string>> = {
  contact: 'Contact sheet over tilt and turn',
  shown: 'As it lies on the table',
  best: 'At its best',
  darkest: 'At its darkest',
  glare: 'At its worst glare',
  panels: 'Each panel, straight on',
  lights: 'Under each of the named lights',
}

/** What plates are for. */
export const plateWords: Readonly<Record<PlateUse, string>> = {
  overlay:
    'Films that are laid on a sheet of the foil and cut out by hand: the dieline prints with them. White goes beneath the inks; what is printed on the far side of a film reads wrong.',
  press: 'Inks, white and varnish for the platemaker; the dieline is a layer that does not print.',
}

/** `840 bytes`, `12 kB`, `2.4 MB`; powers of ten, as file managers and mail programs count. */
export function sizeWords(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`
  if (bytes < 999_500) return `${Math.round(bytes / 1000)} kB`
  const mega = bytes / 1e6
  return `${mega < 9.95 ? mega.toFixed(1) : Math.round(mega)} MB`
}

/** A moment as this machine writes it, by its own clock. */
export function momentWords(at: string): string {
  return new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })
}

/** `at 20.5, 31.0 mm · lamp 90° round, 60° up · top 12° away` */
export function standsWords({ place, lamp, view }: Pick<Note, 'place' | 'lamp' | 'view'>): string {
  return [
    `At ${shown(place.xMm, 1)}, ${shown(place.yMm, 1)} mm`,
    `lamp ${shown(lamp.azimuthDeg, 0)}° round, ${shown(lamp.elevationDeg, 0)}° up`,
    heldWords(view.pose),
  ].join(' · ')
}

/** What came of a returned file. @param twice marks under which two notes say something else */
export function takenInWords({ name, added, mark }: TakenIn, twice: number): string {
  const came =
    added === 0
      ? `Everything in ${name} was known already.`
      : `${added === 1 ? 'One note or answer' : `${added} notes and answers`} came in from ${name}; what was known already stays once.`
  const of =
    mark.kind === 'newest'
      ? ''
      : mark.kind === 'older'
        ? ` They were written on an older version, ${shortId(mark.of)}: look whether they still hold.`
        : ` They were written on version ${shortId(mark.of)}, which is not in the list.`
  const kept =
    twice === 0
      ? ''
      : twice === 1
        ? ' One note is there twice, as two people have it: both are kept.'
        : ` ${twice} notes are there twice, as two people have them: both are kept.`
  return `${came}${of}${kept}`
}
