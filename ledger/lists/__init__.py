"""Lists as data: what a list holds, how it stands ordered and filtered, and how it is written as a file."""
