// Files that go out of the page to the person.

/** keepAs hands something to the person as a file. */
export function keepAs(name: string, content: Blob): void {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(content);
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 60_000);
}
