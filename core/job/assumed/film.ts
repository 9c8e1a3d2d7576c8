import { asPrinted, type Film, filmLimits } from '../../reference/overlay.ts'
import { setOverlay } from '../edit.ts'
import type { Job } from '../job.ts'
import { type AssumedNumber, field } from './number.ts'

type Key = Exclude<keyof Film, 'registerMm'>
type Words = Pick<AssumedNumber, 'name' | 'says' | 'unit' | 'range' | 'status' | 'source' | 'measure'>

const known: Readonly<Record<Key, Words & { readonly step: number }>> = {
  thicknessMm: {
    name: 'Film proof: thickness',
    says: 'Of the clear film that carries white and overprint when they are laid down as a proof. It sets how far ink and white seem apart.',
    unit: 'mm',
    range: [0.05, 0.2],
    status: 'common practice',
    source: 'polyester films of 50 to 175 µm are usual',
    measure: 'Micrometer over ten sheets.',
    step: 0.01,
  },
  index: {
    name: 'Film proof: refractive index',
    says: 'Of the same film. It sets what its two surfaces throw back.',
    unit: '',
    range: [1.48, 1.66],
    status: 'from memory',
    source: 'acetate about 1.48, a film with coats on it about 1.5, polyester about 1.65',
    measure: 'The maker’s data sheet.',
    step: 0.01,
  },
  roughness: {
    name: 'Film proof: slope of its surfaces',
    says: 'How far the film is from a flat mirror, rms slope; it widens the image of a lamp in it.',
    unit: '',
    range: [0.003, 0.05],
    status: 'proposed',
    source: 'no source; a clear film that lies nearly flat',
    measure:
      'Photograph the mirror image of a small far lamp in the film; a quarter of the angle that it fills.',
    step: 0.001,
  },
  gapMm: {
    name: 'Film proof: air below it',
    says: 'Between board and film. Hand-laid film touches in places only.',
    unit: 'mm',
    range: [0, 0.3],
    status: 'proposed',
    source: 'no source; a film laid by hand',
    measure: 'Feeler gauge beside a corner, or the double edge of a fine line at a known slant.',
    step: 0.01,
  },
}

/** Numbers of the film that a proof is laid down with. */
export function assumedOfFilm({ view }: Job): AssumedNumber[] {
  const film = view.overlay?.film ?? asPrinted.film
  return (Object.keys(known) as Key[]).map((key): AssumedNumber => {
    const { step, ...words } = known[key]
    return {
      ...words,
      key: `view.overlay.film.${key}`,
      group: 'Print',
      value: film[key],
      usual: asPrinted.film[key],
      field: field(filmLimits[key], step, value => setOverlay({}, { [key]: value })),
    }
  })
}
