/** What the checks cannot promise. */
export function Caution() {
  return (
    <p className="quiet caution">
      Codes are estimated, not verified: a verifier on printed cartons has the last word. Rules for food,
      health and legal text differ from place to place, and the local ones go first. The picture on a screen
      is not contractual for foil.
    </p>
  )
}
