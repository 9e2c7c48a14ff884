"""MusicXML to a chart and a chart to MusicXML."""
