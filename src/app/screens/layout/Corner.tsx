/** Whether the line is said to turn at a point; unsaid it is found out. */
export function Corner({ begin }: { begin: boolean }) {
  return (
    <label className="tick">
      <input type="checkbox" name="corner" defaultChecked={begin} />
      <span>The line bends here</span>
    </label>
  );
}
