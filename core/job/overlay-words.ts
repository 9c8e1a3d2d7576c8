import { asPrinted, type Overlay } from '../reference/overlay.ts'

/** The three leaves by the names that people read, from the eye down. */
export const leafWords = [
  { key: 'overprint', title: 'Overprint', says: 'Process and spot inks' },
  { key: 'white', title: 'White', says: 'Opaque white under the inks' },
  { key: 'board', title: 'Board', says: 'Metallised board with its holography' },
] as const satisfies readonly {
  readonly key: keyof Overlay['shown']
  readonly title: string
  readonly says: string
}[]

/** The two ways of laying the leaves down. */
export const laidWords = [
  { value: 'print', title: 'As printed', says: 'Everything on the board' },
  {
    value: 'film',
    title: 'As a film proof',
    says: 'White and overprint on a clear film that a hand lays on the board',
  },
] as const satisfies readonly {
  readonly value: Overlay['laid']
  readonly title: string
  readonly says: string
}[]

/** What a picture shows that is not the print, such as "film proof, without white"; null where it is the print. */
export function overlayWords({ lift, laid, shown }: Overlay = asPrinted): string | null {
  const hidden = leafWords.filter(({ key }) => !shown[key]).map(({ title }) => title.toLowerCase())
  const words = [
    ...(lift > 0 ? [`lifted ${Math.round(100 * lift)} %`] : []),
    ...(laid === 'film' ? ['film proof'] : []),
    ...(hidden.length > 0 ? [`without ${hidden.join(', ')}`] : []),
  ]
  return words.length === 0 ? null : words.join(', ')
}
