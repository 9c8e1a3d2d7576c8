import { checkNames } from '../../../core/checks/finding.ts'
import { checkWords } from './words.ts'

/** Before the first look: what the checks are for and what each looks at. */
export function FirstLook() {
  return (
    <section className="help">
      <p>
        Some faults show only in the hand: type that is gone at one tilt, a code that no scanner reads on
        metal, a rim of foil where plates moved. The checks compute them from the same optics as the picture,
        over lamps and tilts, and list them worst first, each with its place and its number. They take some
        seconds to minutes, and never run by themselves.
      </p>
      <dl>
        {checkNames.map(name => (
          <div key={name}>
            <dt>{checkWords[name].title}</dt>
            <dd>{checkWords[name].says}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
