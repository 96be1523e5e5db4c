// Canvases on paper. Not every browser prints what is drawn on one, and none keeps its proportions on a page of another width: for
// the time of a print a picture of each stands in its place.

export function onPaper(): void {
  const away = (): void => document.querySelectorAll("img.drawn").forEach((i) => i.remove());
  addEventListener("beforeprint", () => {
    away();
    for (const c of document.querySelectorAll("canvas")) {
      if (!c.width || !c.height || !c.getClientRects().length) continue;
      const picture = new Image(c.width, c.height);
      picture.className = "drawn";
      picture.alt = "";
      picture.decoding = "sync";
      picture.src = c.toDataURL();
      c.after(picture);
    }
  });
  addEventListener("afterprint", away);
}
