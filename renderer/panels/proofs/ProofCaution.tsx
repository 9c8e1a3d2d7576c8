/** What a proof on a screen cannot promise. */
export function ProofCaution() {
  return (
    <p className="quiet caution">
      Virtual appearance proof (not a contract proof). Metal, holography, the opacity of white and the reading
      of codes depend on material, light and viewer: agree those on a sample, the press sheet and a verified
      code.
    </p>
  )
}
