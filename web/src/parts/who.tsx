// Who works here, and as what: said once on a device, it stands in every record that is made on it.
import { useState } from "preact/hooks";
import { author, role } from "../keep/author";

// What people are there as. Any word will do; what an inspector reads comes beside the contractor's own readings.
const trades = ["foreman", "ganger", "site engineer", "surveyor", "storekeeper", "inspector"];
const own = "in own words";

/** Who asks for a name and what goes with it. id is of the box for the name. */
export function Who({ id, put }: { id?: string; put(name: string, as: string): void }) {
  const [name, setName] = useState(author);
  const [as, setAs] = useState(() => role());
  const [typing, setTyping] = useState(as !== "" && !trades.includes(as));
  const say = (n: string, a: string): void => {
    setName(n);
    setAs(a);
    put(n.trim(), a.trim());
  };
  const named = (n: string): void => {
    const a = role(n.trim());
    setTyping(a !== "" && !trades.includes(a));
    say(n, a);
  };
  return (
    <div class="who">
      <label>your name <input id={id} maxLength={80} autocomplete="name" value={name} onInput={(e) => named(e.currentTarget.value)} /></label>
      <label>
        here as{" "}
        <select class="as" value={typing ? own : as} onChange={(e) => {
          const a = e.currentTarget.value;
          setTyping(a === own);
          say(name, a === own ? "" : a);
        }}>
          <option value="">not said</option>
          {trades.map((t) => <option key={t}>{t}</option>)}
          <option>{own}</option>
        </select>
      </label>
      {typing && <label>as what <input class="own" maxLength={80} value={as} onInput={(e) => say(name, e.currentTarget.value)} /></label>}
    </div>
  );
}
