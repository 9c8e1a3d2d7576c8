import type { ProofManifest } from '../../core/proof/manifest.ts'
import { shortId } from '../../core/proof/version.ts'
import { el, section, terms } from './dom.ts'

/** Day and minute of an instant, as everywhere the same. */
export const dayAndTime = (iso: string): string => `${iso.slice(0, 10)} ${iso.slice(11, 16)} UTC`

/** File name of the job without its endings. */
export const nameOf = (jobName: string): string => jobName.replace(/(\.job)?\.json$/i, '')

const sourceWords = { art: 'Art', profile: 'Profile', asset: 'Picture or model', carton: 'Carton' } as const

/** What a picture on a screen binds nobody to. */
export const cautionBox = ({ caution }: Pick<ProofManifest, 'caution'>): HTMLElement =>
  el('div', { class: 'caution' }, ...caution.map(one => el('p', {}, one)))

/** What is shown, from what it was made, and how fine. */
export function aboutPart({ of, detail }: ProofManifest): HTMLElement {
  return section(
    'About this proof',
    false,
    terms([
      ['Version', shortId(of.id)],
      ['Made', dayAndTime(of.madeAt)],
      ['Detail', detail.says],
      ['Made by', `rakelight ${of.program}, tables ${of.data}`],
    ]),
    el('h3', {}, 'Hashes, SHA-256'),
    terms([
      ['This version', of.id],
      ['Job', of.jobSha256],
      ...of.sources.map(({ kind, name, sha256 }) => [`${sourceWords[kind]}: ${name}`, sha256] as const),
    ]),
  )
}

const severityWords = { error: 'Error', warning: 'Warning', note: 'Note' } as const

/** What the checks said, in short. */
export function findingsPart({ findings: { counts, told } }: ProofManifest): HTMLElement {
  const says =
    counts === null
      ? 'This proof was made without checks.'
      : `${plural(counts.error, 'error')}, ${plural(counts.warning, 'warning')}, ${plural(counts.note, 'note')}.`
  return section(
    'What the checks found',
    false,
    el('p', {}, says),
    el(
      'ul',
      { class: 'rows' },
      ...told.map(({ severity, where, message, fix }) =>
        el(
          'li',
          {},
          el('strong', {}, `${severityWords[severity]} · ${where}`),
          el('p', {}, message),
          el('p', { class: 'quiet' }, fix),
        ),
      ),
    ),
  )
}

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`

/** Numbers that stand in the picture without having been measured, and those that were. */
export function assumedPart({ assumed }: ProofManifest): HTMLElement {
  const groups = [...new Set(assumed.map(({ group }) => group))]
  return section(
    'What is assumed',
    false,
    el('p', { class: 'quiet' }, 'Numbers that stand in the picture, and how sure each one is.'),
    ...groups.flatMap(group => [
      el('h3', {}, group),
      terms(
        assumed
          .filter(one => one.group === group)
          .map(({ name, value, status, measured }) => [
            name,
            `${value} · ${measured === null ? status : `measured: ${measured}`}`,
          ]),
      ),
    ]),
  )
}

/** What hand and keys do. */
export function helpPart(): HTMLElement {
  return section(
    'How to look',
    false,
    terms([
      ['Drag', 'tilts the carton'],
      ['Pinch or wheel', 'looks closer'],
      ['Two fingers turned', 'turn it in its plane'],
      ['Arrow keys', 'tilt by 2°, with Shift by 10°'],
      ['Home, or a double tap', 'straight, and seen whole'],
      ['+ and −', 'closer, and farther off'],
    ]),
    el(
      'p',
      { class: 'quiet' },
      'Look in a dim, even light, the screen at full brightness and without a night or colour filter.',
    ),
  )
}
